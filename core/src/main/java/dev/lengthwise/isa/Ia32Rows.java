package dev.lengthwise.isa;

import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.RowStep;
import java.util.function.Consumer;

/**
 * Writes the rows of one IA-32 opcode map in the terms of the manual: opcode alone, with an
 * immediate, with a ModR/M byte.
 *
 * <p>A map's rows count bytes from the first opcode byte, so the writer knows how far away the map
 * lies.
 */
final class Ia32Rows {

  /**
   * The ModR/M byte. With 16-bit addresses as in table 2-1, with 32-bit addresses as in tables 2-2
   * and 2-3 of the manual: an SIB byte follows where r/m is 100 and mod is not 11; mod 01 adds a
   * displacement of one byte, mod 10 one of the address size; so do mod 00 with r/m 110 (16-bit),
   * r/m 101 (32-bit) and an SIB byte whose base is 101.
   */
  static final OperandSpecifier MODRM = modRm();

  private final OpcodeMap.Builder map;
  private final int opcodeBytes;

  /**
   * Starts to write a map.
   *
   * @param map the map
   * @param opcodeBytes the bytes up to the map's opcode byte, that byte counted
   */
  Ia32Rows(OpcodeMap.Builder map, int opcodeBytes) {
    this.map = map;
    this.opcodeBytes = opcodeBytes;
  }

  private static OperandSpecifier modRm() {
    ModeCondition short16 = ModeCondition.off(Ia32.ADDRESS32);
    ModeCondition wide32 = ModeCondition.on(Ia32.ADDRESS32);
    return OperandSpecifier.named("modrm")
        .when("11xx_xxxx", 0)
        .when(short16, "00xx_x0xx", 0)
        .when(short16, "00xx_x10x", 0)
        .when(short16, "00xx_x110", 2)
        .when(short16, "00xx_x111", 0)
        .when(short16, "01xx_xxxx", 1)
        .when(short16, "10xx_xxxx", 2)
        .when(wide32, "00xx_x0xx", 0)
        .when(wide32, "00xx_x100", "xxxx_x0xx", 1)
        .when(wide32, "00xx_x100", "xxxx_x100", 1)
        .when(wide32, "00xx_x100", "xxxx_x101", 5)
        .when(wide32, "00xx_x100", "xxxx_x11x", 1)
        .when(wide32, "00xx_x101", 4)
        .when(wide32, "00xx_x11x", 0)
        .when(wide32, "01xx_x0xx", 1)
        .when(wide32, "01xx_x100", 2)
        .when(wide32, "01xx_x101", 1)
        .when(wide32, "01xx_x11x", 1)
        .when(wide32, "10xx_x0xx", 4)
        .when(wide32, "10xx_x100", 5)
        .when(wide32, "10xx_x101", 4)
        .when(wide32, "10xx_x11x", 4)
        .build();
  }

  /** Writes opcodes that nothing follows. */
  Ia32Rows alone(int from, int to) {
    return immediate(from, to, 0);
  }

  /** Writes one opcode that nothing follows. */
  Ia32Rows alone(int code) {
    return alone(code, code);
  }

  /** Writes opcodes with an immediate or displacement of fixed size: Ib, Jb, Iw in the maps. */
  Ia32Rows immediate(int from, int to, int bytes) {
    map.rows(from, to).bytes(opcodeBytes + bytes);
    return this;
  }

  /** Writes one opcode with an immediate or displacement of fixed size. */
  Ia32Rows immediate(int code, int bytes) {
    return immediate(code, code, bytes);
  }

  /** Writes opcodes with an immediate of the operand size, 2 or 4 bytes: Iz, Jz in the maps. */
  Ia32Rows sizedImmediate(int from, int to) {
    map.rows(from, to).bytes(opcodeBytes + 2).grows(Ia32.OPERAND32, 2);
    return this;
  }

  /** Writes one opcode with an immediate of the operand size. */
  Ia32Rows sizedImmediate(int code) {
    return sizedImmediate(code, code);
  }

  /** Writes opcodes with a far pointer, 2 bytes and the operand size: Ap in the maps. */
  Ia32Rows farPointer(int code) {
    map.row(code).bytes(opcodeBytes + 4).grows(Ia32.OPERAND32, 2);
    return this;
  }

  /** Writes opcodes with an offset of the address size, 2 or 4 bytes: Ob, Ov in the maps. */
  Ia32Rows offset(int from, int to) {
    map.rows(from, to).bytes(opcodeBytes + 2).grows(Ia32.ADDRESS32, 2);
    return this;
  }

  /** Writes opcodes that any ModR/M byte may follow. */
  Ia32Rows modRm(int from, int to) {
    return modRm(from, to, 0);
  }

  /** Writes one opcode that any ModR/M byte may follow. */
  Ia32Rows modRm(int code) {
    return modRm(code, code, 0);
  }

  /** Writes opcodes with any ModR/M byte and an immediate of fixed size. */
  Ia32Rows modRm(int from, int to, int immediate) {
    map.rows(from, to).bytes(opcodeBytes + 1 + immediate).specifier(MODRM);
    return this;
  }

  /** Writes one opcode with any ModR/M byte and an immediate of the operand size. */
  Ia32Rows modRmSizedImmediate(int code) {
    map.row(code).bytes(opcodeBytes + 3).grows(Ia32.OPERAND32, 2).specifier(MODRM);
    return this;
  }

  /** Writes opcodes that are defined with some ModR/M bytes only. */
  Ia32Rows only(int from, int to, ModRmForms forms) {
    return only(from, to, forms, 0);
  }

  /** Writes one opcode that is defined with some ModR/M bytes only. */
  Ia32Rows only(int code, ModRmForms forms) {
    return only(code, code, forms, 0);
  }

  /** Writes one opcode with some ModR/M bytes and an immediate of fixed size. */
  Ia32Rows only(int code, ModRmForms forms, int immediate) {
    return only(code, code, forms, immediate);
  }

  /** Writes opcodes with some ModR/M bytes and an immediate of fixed size. */
  Ia32Rows only(int from, int to, ModRmForms forms, int immediate) {
    return cases(from, to, next -> cases(next, forms, immediate));
  }

  /** Writes opcodes whose rows depend on the ModR/M byte; bytes without a case are undefined. */
  Ia32Rows cases(int from, int to, Consumer<RowStep.NextByteRows> cases) {
    map.rows(from, to).byNextByte(next -> cases.andThen(n -> n.others().undefined()).accept(next));
    return this;
  }

  /** Writes cases with a ModR/M byte and an immediate of fixed size. */
  void cases(RowStep.NextByteRows next, ModRmForms forms, int immediate) {
    for (String pattern : forms.patterns()) {
      next.when(pattern).bytes(opcodeBytes + 1 + immediate).specifier(MODRM);
    }
  }

  /**
   * Writes the cases of 0F 78: VMREAD, or with a register operand behind 66 or F2 EXTRQ or INSERTQ,
   * which have two immediate bytes.
   */
  void fieldCases(RowStep.NextByteRows next) {
    cases(next, ModRmForms.MEMORY, 0);
    for (String pattern : ModRmForms.REGISTER.patterns()) {
      next.when(pattern).bytes(opcodeBytes + 1).grows(Ia32.FIELD_PREFIX, 2);
    }
  }

  /** Writes cases with a ModR/M byte and an immediate of the operand size. */
  void sizedCases(RowStep.NextByteRows next, ModRmForms forms) {
    for (String pattern : forms.patterns()) {
      next.when(pattern).bytes(opcodeBytes + 3).grows(Ia32.OPERAND32, 2).specifier(MODRM);
    }
  }
}

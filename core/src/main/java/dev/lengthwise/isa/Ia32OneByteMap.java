package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.MEMORY;
import static dev.lengthwise.isa.ModRmForms.bytes;
import static dev.lengthwise.isa.ModRmForms.either;
import static dev.lengthwise.isa.ModRmForms.memory;

import dev.lengthwise.table.OpcodeMap;
import java.util.Set;

/** The one-byte opcode map (table A-2) with its opcode extensions (table A-6). */
final class Ia32OneByteMap {

  private Ia32OneByteMap() {}

  static void write(OpcodeMap.Builder map, Set<Ia32Extension> on) {
    Ia32Rows rows = new Ia32Rows(map, 1);
    arithmetic(rows);
    oneRegister(rows);
    movesAndBranches(rows);
    groups(rows);
    overlaid(rows, on);
    Ia32X87.write(rows, on);
    map.row(0x0f).escape(Ia32.TWO_BYTE);
    vex(map);
    map.others().undefined();
  }

  /** ADD, OR, ADC, SBB, AND, SUB, XOR, CMP and what stands between them, 00-3F. */
  private static void arithmetic(Ia32Rows rows) {
    for (int code = 0x00; code < 0x40; code += 8) {
      rows.modRm(code, code + 3).immediate(code + 4, 1).sizedImmediate(code + 5);
    }
    rows.alone(0x06, 0x07).alone(0x0e).alone(0x16, 0x17).alone(0x1e, 0x1f);
    rows.alone(0x27).alone(0x2f).alone(0x37).alone(0x3f);
  }

  /** Opcodes that hold all there is to say, of 40-FF. */
  private static void oneRegister(Ia32Rows rows) {
    rows.alone(0x40, 0x5f).alone(0x60, 0x61).alone(0x6c, 0x6f);
    rows.alone(0x90, 0x99).alone(0x9b, 0x9f);
    rows.alone(0xa4, 0xa7).alone(0xaa, 0xaf);
    rows.alone(0xc3).alone(0xc9).alone(0xcb, 0xcc).alone(0xce, 0xcf).alone(0xd7);
    rows.alone(0xec, 0xef).alone(0xf1).alone(0xf4, 0xf5).alone(0xf8, 0xfd);
  }

  /** Immediates, displacements and plain ModR/M bytes, of 60-EB. */
  private static void movesAndBranches(Ia32Rows rows) {
    rows.modRm(0x63);
    rows.sizedImmediate(0x68).modRmSizedImmediate(0x69).immediate(0x6a, 1).modRm(0x6b, 0x6b, 1);
    rows.immediate(0x70, 0x7f, 1);
    rows.modRm(0x84, 0x8b).only(0x8d, MEMORY);
    rows.farPointer(0x9a).offset(0xa0, 0xa3).immediate(0xa8, 1).sizedImmediate(0xa9);
    rows.immediate(0xb0, 0xb7, 1).sizedImmediate(0xb8, 0xbf);
    rows.immediate(0xc2, 2).immediate(0xc8, 3).immediate(0xca, 2).immediate(0xcd, 1);
    rows.immediate(0xd4, 0xd5, 1);
    rows.immediate(0xe0, 0xe7, 1).sizedImmediate(0xe8, 0xe9).farPointer(0xea).immediate(0xeb, 1);
  }

  /**
   * Opcode extensions: groups 1 to 5 and 11, and segment registers, of which MOV loads all but CS.
   */
  private static void groups(Ia32Rows rows) {
    rows.modRm(0x80, 0x80, 1).modRmSizedImmediate(0x81).modRm(0x82, 0x83, 1);
    rows.only(0x8c, either(0, 1, 2, 3, 4, 5)).only(0x8e, either(0, 2, 3, 4, 5));
    ModRmForms shifts = either(0, 1, 2, 3, 4, 5, 7);
    rows.only(0xc0, 0xc1, shifts, 1).only(0xd0, 0xd3, shifts);
    rows.only(0xc6, either(0).and(bytes(0xf8)), 1);
    rows.cases(0xc7, 0xc7, next -> rows.sizedCases(next, either(0).and(bytes(0xf8))));
    rows.cases(
        0xf6,
        0xf6,
        next -> {
          rows.cases(next, either(0), 1);
          rows.cases(next, either(2, 3, 4, 5, 6, 7), 0);
        });
    rows.cases(
        0xf7,
        0xf7,
        next -> {
          rows.sizedCases(next, either(0));
          rows.cases(next, either(2, 3, 4, 5, 6, 7), 0);
        });
    rows.only(0xfe, either(0, 1));
    rows.only(0xff, either(0, 1, 2, 4, 6).and(memory(3, 5)));
  }

  /** BOUND and POP, which become EVEX and XOP prefixes by bits of the next byte. */
  private static void overlaid(Ia32Rows rows, Set<Ia32Extension> on) {
    rows.cases(
        0x62,
        0x62,
        next -> {
          rows.cases(next, MEMORY, 0);
          if (on.contains(Ia32Extension.EVEX)) {
            Ia32EvexMaps.escapes(next);
          }
        });
    rows.cases(
        0x8f,
        0x8f,
        next -> {
          rows.cases(next, either(0), 0);
          if (on.contains(Ia32Extension.XOP)) {
            Ia32XopMaps.escapes(next);
          }
        });
  }

  /**
   * LES and LDS, which become VEX prefixes where the next byte would be a register operand (section
   * 2.3.5). In a three-byte prefix bits 4-0 of that byte choose the map (mmmmm).
   */
  private static void vex(OpcodeMap.Builder map) {
    map.row(0xc4)
        .byNextByte(
            next -> {
              for (String pattern : MEMORY.patterns()) {
                next.when(pattern).bytes(2).specifier(Ia32Rows.MODRM);
              }
              next.when("11x0_0001").escape(Ia32.VEX3_0F, 2);
              next.when("11x0_0010").escape(Ia32.VEX3_0F38, 2);
              next.when("11x0_0011").escape(Ia32.VEX3_0F3A, 2);
              next.others().undefined();
            });
    map.row(0xc5)
        .byNextByte(
            next -> {
              for (String pattern : MEMORY.patterns()) {
                next.when(pattern).bytes(2).specifier(Ia32Rows.MODRM);
              }
              next.others().escape(Ia32.VEX2_0F, 1);
            });
  }
}

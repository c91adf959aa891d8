package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.MEMORY;
import static dev.lengthwise.isa.ModRmForms.REGISTER;
import static dev.lengthwise.isa.ModRmForms.bytes;
import static dev.lengthwise.isa.ModRmForms.either;
import static dev.lengthwise.isa.ModRmForms.memory;
import static dev.lengthwise.isa.ModRmForms.register;

import dev.lengthwise.table.OpcodeMap;
import java.util.Set;

/** The two-byte opcode map, after 0F (table A-3), with its opcode extensions (table A-6). */
final class Ia32TwoByteMap {

  private Ia32TwoByteMap() {}

  static void write(OpcodeMap.Builder map, Set<Ia32Extension> on) {
    Ia32Rows rows = new Ia32Rows(map, 2);
    system(map, rows);
    vectors(rows);
    integers(rows);
    groups(rows, on);
    extensions(rows, on);
    map.row(0x38).escape(Ia32.THREE_BYTE_38).row(0x3a).escape(Ia32.THREE_BYTE_3A);
    map.others().undefined();
  }

  /** System instructions, hints and reserved NOPs. */
  private static void system(OpcodeMap.Builder map, Ia32Rows rows) {
    rows.modRm(0x02, 0x03).alone(0x06).alone(0x08, 0x09).alone(0x0b);
    rows.modRm(0x18, 0x1f);
    // MOV to and from control and debug registers: both operands are registers whatever mod says.
    for (int code : new int[] {0x20, 0x22}) {
      map.row(code)
          .byNextByte(
              next -> {
                for (String pattern : either(0, 2, 3, 4).patterns()) {
                  next.when(pattern).bytes(3);
                }
                next.others().undefined();
              });
    }
    rows.immediate(0x21, 1).immediate(0x23, 1);
    rows.alone(0x30, 0x35).alone(0x37);
    rows.alone(0xa2).alone(0xaa);
    rows.modRm(0xb9).modRm(0xff);
  }

  /** Vector instructions; the prefixes 66, F2 and F3 choose among them and never change lengths. */
  private static void vectors(Ia32Rows rows) {
    rows.modRm(0x10, 0x12).only(0x13, MEMORY).modRm(0x14, 0x16).only(0x17, MEMORY);
    rows.modRm(0x28, 0x2a).only(0x2b, MEMORY).modRm(0x2c, 0x2f);
    rows.only(0x50, REGISTER).modRm(0x51, 0x6f).modRm(0x70, 0x70, 1);
    rows.only(0x71, register(2, 4, 6), 1).only(0x72, register(2, 4, 6), 1);
    rows.only(0x73, register(2, 3, 6, 7), 1);
    rows.modRm(0x74, 0x76).alone(0x77).modRm(0x7c, 0x7f);
    rows.modRm(0xc2, 0xc2, 1).only(0xc3, MEMORY).modRm(0xc4, 0xc4, 1);
    rows.only(0xc5, REGISTER, 1).modRm(0xc6, 0xc6, 1);
    rows.modRm(0xd0, 0xd6).only(0xd7, REGISTER).modRm(0xd8, 0xe6).only(0xe7, MEMORY);
    rows.modRm(0xe8, 0xef)
        .only(0xf0, MEMORY)
        .modRm(0xf1, 0xf6)
        .only(0xf7, REGISTER)
        .modRm(0xf8, 0xfe);
  }

  /** Conditional moves, branches and sets, and the integer instructions around them. */
  private static void integers(Ia32Rows rows) {
    rows.modRm(0x40, 0x4f).sizedImmediate(0x80, 0x8f).modRm(0x90, 0x9f);
    rows.alone(0xa0, 0xa1).alone(0xa8, 0xa9);
    rows.modRm(0xa3).modRm(0xa4, 0xa4, 1).modRm(0xa5);
    rows.modRm(0xab).modRm(0xac, 0xac, 1).modRm(0xad).modRm(0xaf);
    rows.modRm(0xb0, 0xb1).only(0xb2, MEMORY).modRm(0xb3).only(0xb4, 0xb5, MEMORY);
    rows.modRm(0xb6, 0xb8).modRm(0xbb, 0xbf).modRm(0xc0, 0xc1).alone(0xc8, 0xcf);
  }

  /** Opcode extensions: groups 6, 7, 8, 9, 15 and P. */
  private static void groups(Ia32Rows rows, Set<Ia32Extension> on) {
    rows.only(0x00, either(0, 1, 2, 3, 4, 5));
    rows.only(0x01, group7(on));
    rows.only(0x0d, on.contains(Ia32Extension.THREE_D) ? MEMORY : memory(1, 2));
    rows.only(0xae, MEMORY.and(register(4, 5, 6, 7)));
    rows.only(0xba, either(4, 5, 6, 7), 1);
    rows.only(0xc7, memory(1, 3, 4, 5, 6, 7).and(register(6, 7)));
  }

  private static ModRmForms group7(Set<Ia32Extension> on) {
    ModRmForms forms =
        memory(0, 1, 2, 3, 4, 5, 6, 7)
            .and(register(4, 6))
            .and(bytes(0xc0, 0xc1, 0xc2, 0xc3, 0xc4, 0xc5))
            .and(bytes(0xc8, 0xc9, 0xca, 0xcb, 0xcf))
            .and(bytes(0xd0, 0xd1, 0xd4, 0xd5, 0xd6, 0xd7))
            .and(bytes(0xe8, 0xe9, 0xea, 0xee, 0xef))
            .and(bytes(0xf9));
    forms = on.contains(Ia32Extension.SVM) ? forms.and(register(3)) : forms;
    forms =
        on.contains(Ia32Extension.MONITORX)
            ? forms.and(bytes(0xfa, 0xfb, 0xfc, 0xfd, 0xfe, 0xff))
            : forms;
    forms = on.contains(Ia32Extension.WRMSRNS) ? forms.and(bytes(0xc6)) : forms;
    return on.contains(Ia32Extension.TDCALL) ? forms.and(bytes(0xcc)) : forms;
  }

  /** Cells that are blank in table A-3, or mean something else behind a prefix. */
  private static void extensions(Ia32Rows rows, Set<Ia32Extension> on) {
    if (on.contains(Ia32Extension.THREE_D)) {
      // The last byte is the opcode; it stands where others have an immediate.
      rows.alone(0x0e).modRm(0x0f, 0x0f, 1);
    }
    if (on.contains(Ia32Extension.SYSCALL)) {
      rows.alone(0x05).alone(0x07);
    }
    if (on.contains(Ia32Extension.CIPHER)) {
      rows.only(0xa6, bytes(0xc0, 0xc8, 0xd0));
      rows.only(0xa7, bytes(0xc0, 0xc8, 0xd0, 0xd8, 0xe0, 0xe8));
    }
    if (on.contains(Ia32Extension.SSE4A)) {
      rows.cases(0x78, 0x78, rows::fieldCases).modRm(0x79);
    } else {
      rows.modRm(0x78, 0x79);
    }
  }
}

package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.MEMORY;
import static dev.lengthwise.isa.ModRmForms.bytes;
import static dev.lengthwise.isa.ModRmForms.exactly;
import static dev.lengthwise.isa.ModRmForms.memory;
import static dev.lengthwise.isa.ModRmForms.register;

import java.util.Set;

/** The x87 escape opcodes D8-DF (tables ). */
final class Ia32X87 {

  private Ia32X87() {}

  static void write(Ia32Rows rows, Set<Ia32Extension> on) {
    rows.modRm(0xd8);
    rows.only(
        0xd9,
        memory(0, 2, 3, 4, 5, 6, 7)
            .and(register(0, 1, 6, 7))
            .and(bytes(0xd0))
            .and(exactly("1110_0x0x"))
            .and(bytes(0xe8, 0xe9, 0xea, 0xeb, 0xec, 0xed, 0xee)));
    rows.only(0xda, MEMORY.and(register(0, 1, 2, 3)).and(bytes(0xe9)));
    rows.only(
        0xdb, memory(0, 1, 2, 3, 5, 7).and(register(0, 1, 2, 3, 5, 6)).and(bytes(0xe2, 0xe3)));
    rows.only(0xdc, MEMORY.and(register(0, 1, 4, 5, 6, 7)));
    rows.only(0xdd, memory(0, 1, 2, 3, 4, 6, 7).and(register(0, 2, 3, 4, 5)));
    rows.only(0xde, MEMORY.and(register(0, 1, 4, 5, 6, 7)).and(bytes(0xd9)));
    ModRmForms last = MEMORY.and(bytes(0xe0)).and(register(5, 6));
    rows.only(0xdf, on.contains(Ia32Extension.FFREEP) ? last.and(register(0)) : last);
  }
}

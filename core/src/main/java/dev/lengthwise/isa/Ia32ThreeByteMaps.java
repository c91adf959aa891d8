package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.MEMORY;
import static dev.lengthwise.isa.ModRmForms.REGISTER;
import static dev.lengthwise.isa.ModRmForms.bytes;
import static dev.lengthwise.isa.ModRmForms.memory;

import dev.lengthwise.table.OpcodeMap;
import java.util.Set;

/** The three-byte opcode maps, after 0F 38 (table A-4) and 0F 3A (table A-5). */
final class Ia32ThreeByteMaps {

  private Ia32ThreeByteMaps() {}

  /** Table A-4; nothing here has an immediate. */
  static void write38(OpcodeMap.Builder map, Set<Ia32Extension> on) {
    Ia32Rows rows = new Ia32Rows(map, 3);
    rows.modRm(0x00, 0x0b).modRm(0x10).modRm(0x14, 0x15).modRm(0x17).modRm(0x1c, 0x1e);
    rows.modRm(0x20, 0x25).modRm(0x28, 0x29).only(0x2a, MEMORY).modRm(0x2b);
    rows.modRm(0x30, 0x35).modRm(0x37, 0x41);
    rows.only(0x80, 0x82, MEMORY);
    rows.modRm(0xc8, 0xcd).modRm(0xcf).only(0xd8, memory(0, 1, 2, 3)).modRm(0xdb, 0xdf);
    rows.modRm(0xf0, 0xf1).only(0xf5, MEMORY).modRm(0xf6);
    rows.only(0xf8, 0xf9, MEMORY).only(0xfa, 0xfb, REGISTER);
    if (on.contains(Ia32Extension.RAO_INT)) {
      rows.only(0xfc, MEMORY);
    }
    map.others().undefined();
  }

  /** Table A-5; everything here has an immediate of one byte. */
  static void write3a(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, 3);
    rows.modRm(0x08, 0x0f, 1).modRm(0x14, 0x17, 1).modRm(0x20, 0x22, 1);
    rows.modRm(0x40, 0x42, 1).modRm(0x44, 0x44, 1).modRm(0x60, 0x63, 1);
    rows.modRm(0xcc, 0xcc, 1).modRm(0xce, 0xcf, 1).modRm(0xdf, 0xdf, 1);
    rows.only(0xf0, bytes(0xc0), 1);
    map.others().undefined();
  }
}

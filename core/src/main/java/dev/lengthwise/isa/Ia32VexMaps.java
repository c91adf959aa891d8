package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.INDEXED;
import static dev.lengthwise.isa.ModRmForms.MEMORY;
import static dev.lengthwise.isa.ModRmForms.REGISTER;
import static dev.lengthwise.isa.ModRmForms.either;
import static dev.lengthwise.isa.ModRmForms.memory;
import static dev.lengthwise.isa.ModRmForms.register;

import dev.lengthwise.table.OpcodeMap;
import java.util.Set;

/**
 * The VEX-coded cells of tables.
 *
 * <p>The map of 0F is reached through a prefix of two bytes and through one of three, so it is
 * written once for each distance.
 */
final class Ia32VexMaps {

  private Ia32VexMaps() {}

  /** The VEX-coded cells of table A-3, with the mask-register instructions. */
  static void write0f(OpcodeMap.Builder map, int opcodeBytes) {
    Ia32Rows rows = new Ia32Rows(map, opcodeBytes);
    rows.modRm(0x10, 0x12).only(0x13, MEMORY).modRm(0x14, 0x16).only(0x17, MEMORY);
    rows.modRm(0x28, 0x2a).only(0x2b, MEMORY).modRm(0x2c, 0x2f);
    rows.only(0x41, 0x42, REGISTER).only(0x44, 0x47, REGISTER).only(0x4a, 0x4b, REGISTER);
    rows.only(0x50, REGISTER).modRm(0x51, 0x6f).modRm(0x70, 0x70, 1);
    rows.only(0x71, register(2, 4, 6), 1).only(0x72, register(2, 4, 6), 1);
    rows.only(0x73, register(2, 3, 6, 7), 1);
    rows.modRm(0x74, 0x76).alone(0x77).modRm(0x7c, 0x7f);
    rows.modRm(0x90).only(0x91, MEMORY).only(0x92, 0x93, REGISTER).only(0x98, 0x99, REGISTER);
    rows.only(0xae, memory(2, 3));
    rows.modRm(0xc2, 0xc2, 1).modRm(0xc4, 0xc4, 1).only(0xc5, REGISTER, 1).modRm(0xc6, 0xc6, 1);
    rows.modRm(0xd0, 0xd6).only(0xd7, REGISTER).modRm(0xd8, 0xe6).only(0xe7, MEMORY);
    rows.modRm(0xe8, 0xef).only(0xf0, MEMORY).modRm(0xf1, 0xf6).only(0xf7, REGISTER);
    rows.modRm(0xf8, 0xfe);
    map.others().undefined();
  }

  /** The VEX-coded cells of table A-4; gathers need an SIB byte (section 2.3.12). */
  static void write0f38(OpcodeMap.Builder map, int opcodeBytes, Set<Ia32Extension> on) {
    Ia32Rows rows = new Ia32Rows(map, opcodeBytes);
    rows.modRm(0x00, 0x0f).modRm(0x13).modRm(0x16, 0x19).only(0x1a, MEMORY).modRm(0x1c, 0x1e);
    rows.modRm(0x20, 0x25).modRm(0x28, 0x29).only(0x2a, MEMORY).modRm(0x2b);
    rows.only(0x2c, 0x2f, MEMORY).modRm(0x30, 0x41).modRm(0x45, 0x47);
    rows.modRm(0x50, 0x53).modRm(0x58, 0x59).only(0x5a, MEMORY).modRm(0x78, 0x79);
    rows.only(0x8c, MEMORY).only(0x8e, MEMORY).only(0x90, 0x93, INDEXED);
    rows.modRm(0x96, 0x9f).modRm(0xa6, 0xaf).modRm(0xb6, 0xbf);
    rows.modRm(0xcf).modRm(0xdb, 0xdf);
    rows.modRm(0xf2).only(0xf3, either(1, 2, 3)).modRm(0xf5, 0xf7);
    if (on.contains(Ia32Extension.VEX_LATER)) {
      rows.modRm(0x72).only(0xb0, 0xb1, MEMORY).modRm(0xb4, 0xb5);
      rows.only(0xcb, 0xcd, REGISTER).modRm(0xd2, 0xd3).modRm(0xda);
    }
    map.others().undefined();
  }

  /** The VEX-coded cells of table A-5; everything here has an immediate of one byte. */
  static void write0f3a(OpcodeMap.Builder map, int opcodeBytes, Set<Ia32Extension> on) {
    Ia32Rows rows = new Ia32Rows(map, opcodeBytes);
    rows.modRm(0x00, 0x02, 1).modRm(0x04, 0x06, 1).modRm(0x08, 0x0f, 1).modRm(0x14, 0x19, 1);
    rows.modRm(0x1d, 0x1d, 1).modRm(0x20, 0x22, 1).only(0x30, 0x33, REGISTER, 1);
    rows.modRm(0x38, 0x39, 1).modRm(0x40, 0x42, 1).modRm(0x44, 0x44, 1).modRm(0x46, 0x46, 1);
    rows.modRm(0x4a, 0x4c, 1).modRm(0x60, 0x63, 1).modRm(0xce, 0xcf, 1).modRm(0xdf, 0xdf, 1);
    rows.modRm(0xf0, 0xf0, 1);
    if (on.contains(Ia32Extension.VEX_LATER)) {
      rows.modRm(0xde, 0xde, 1);
    }
    if (on.contains(Ia32Extension.FMA4)) {
      rows.modRm(0x48, 0x49, 1).modRm(0x5c, 0x5f, 1).modRm(0x68, 0x6f, 1).modRm(0x78, 0x7f, 1);
    }
    map.others().undefined();
  }
}

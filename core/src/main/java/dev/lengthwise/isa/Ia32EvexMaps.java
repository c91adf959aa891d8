package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.INDEXED;
import static dev.lengthwise.isa.ModRmForms.MEMORY;
import static dev.lengthwise.isa.ModRmForms.REGISTER;
import static dev.lengthwise.isa.ModRmForms.either;
import static dev.lengthwise.isa.ModRmForms.indexed;

import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.RowStep;

/**
 * The maps behind an EVEX prefix ({@link Ia32Extension#EVEX}).
 *
 * <p>A compressed displacement is still one byte, so the ModR/M byte counts as everywhere else.
 */
final class Ia32EvexMaps {

  private static final String EVEX_0F = "evex_0f";
  private static final String EVEX_0F38 = "evex_0f38";
  private static final String EVEX_0F3A = "evex_0f3a";
  private static final String EVEX_MAP5 = "evex_map5";
  private static final String EVEX_MAP6 = "evex_map6";

  /** Three bytes of payload stand between 62 and the opcode. */
  private static final int PAYLOAD = 3;

  private static final int OPCODE_BYTES = 1 + PAYLOAD + 1;

  private Ia32EvexMaps() {}

  /** Adds the maps to the table. */
  static void add(LengthTable.Builder table) {
    table
        .map(EVEX_0F, Ia32EvexMaps::write0f)
        .map(EVEX_0F38, Ia32EvexMaps::write0f38)
        .map(EVEX_0F3A, Ia32EvexMaps::write0f3a)
        .map(EVEX_MAP5, Ia32EvexMaps::writeMap5)
        .map(EVEX_MAP6, Ia32EvexMaps::writeMap6);
  }

  /**
   * Writes the cases of BOUND's second byte that make it a prefix: a register operand, bit 3 clear.
   */
  static void escapes(RowStep.NextByteRows next) {
    next.when("11xx_0001").escape(EVEX_0F, PAYLOAD);
    next.when("11xx_0010").escape(EVEX_0F38, PAYLOAD);
    next.when("11xx_0011").escape(EVEX_0F3A, PAYLOAD);
    next.when("11xx_0101").escape(EVEX_MAP5, PAYLOAD);
    next.when("11xx_0110").escape(EVEX_MAP6, PAYLOAD);
  }

  private static void write0f(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x10, 0x12).only(0x13, MEMORY).modRm(0x14, 0x16).only(0x17, MEMORY);
    rows.modRm(0x28, 0x2a).only(0x2b, MEMORY).modRm(0x2c, 0x2f);
    rows.modRm(0x51).modRm(0x54, 0x6f).modRm(0x70, 0x70, 1);
    rows.only(0x71, either(2, 4, 6), 1).only(0x72, either(0, 1, 2, 4, 6), 1);
    rows.only(0x73, either(2, 3, 6, 7), 1);
    rows.modRm(0x74, 0x76).modRm(0x78, 0x7b).modRm(0x7e, 0x7f);
    rows.modRm(0xc2, 0xc2, 1).modRm(0xc4, 0xc4, 1).only(0xc5, REGISTER, 1).modRm(0xc6, 0xc6, 1);
    rows.modRm(0xd1, 0xd6).modRm(0xd8, 0xe6).only(0xe7, MEMORY);
    rows.modRm(0xe8, 0xef).modRm(0xf1, 0xf6).modRm(0xf8, 0xfe);
    map.others().undefined();
  }

  /** Gathers, scatters and their prefetches need an SIB byte. */
  private static void write0f38(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x00).modRm(0x04).modRm(0x0b, 0x0d).modRm(0x10, 0x16).modRm(0x18, 0x19);
    rows.only(0x1a, 0x1b, MEMORY).modRm(0x1c, 0x2d).modRm(0x30, 0x40).modRm(0x42, 0x47);
    rows.modRm(0x4c, 0x55).modRm(0x58, 0x59).only(0x5a, 0x5b, MEMORY);
    rows.modRm(0x62, 0x66).modRm(0x68).modRm(0x70, 0x73).modRm(0x75, 0x79);
    rows.only(0x7a, 0x7c, REGISTER).modRm(0x7d, 0x7f).modRm(0x83);
    rows.modRm(0x88, 0x8b).modRm(0x8d).modRm(0x8f).only(0x90, 0x93, INDEXED);
    rows.modRm(0x96, 0x9f).only(0xa0, 0xa3, INDEXED).modRm(0xa6, 0xaf).modRm(0xb4, 0xbf);
    rows.modRm(0xc4).only(0xc6, 0xc7, indexed(1, 2, 5, 6));
    rows.modRm(0xc8).modRm(0xca, 0xcd).modRm(0xcf).modRm(0xdc, 0xdf);
    map.others().undefined();
  }

  /** Everything here has an immediate of one byte. */
  private static void write0f3a(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x00, 0x01, 1).modRm(0x03, 0x05, 1).modRm(0x08, 0x0b, 1).modRm(0x0f, 0x0f, 1);
    rows.modRm(0x14, 0x1b, 1).modRm(0x1d, 0x23, 1).modRm(0x25, 0x27, 1).modRm(0x38, 0x3b, 1);
    rows.modRm(0x3e, 0x3f, 1).modRm(0x42, 0x44, 1).modRm(0x50, 0x51, 1).modRm(0x54, 0x57, 1);
    rows.modRm(0x66, 0x67, 1).modRm(0x70, 0x73, 1).modRm(0xc2, 0xc2, 1).modRm(0xce, 0xcf, 1);
    map.others().undefined();
  }

  private static void writeMap5(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x10, 0x11).modRm(0x1d).modRm(0x2a).modRm(0x2c, 0x2f).modRm(0x51);
    rows.modRm(0x58, 0x5f).modRm(0x6e).modRm(0x78, 0x7e);
    map.others().undefined();
  }

  private static void writeMap6(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x13).modRm(0x2c, 0x2d).modRm(0x42, 0x43).modRm(0x4c, 0x4f).modRm(0x56, 0x57);
    rows.modRm(0x96, 0x9f).modRm(0xa6, 0xaf).modRm(0xb6, 0xbf).modRm(0xd6, 0xd7);
    map.others().undefined();
  }
}

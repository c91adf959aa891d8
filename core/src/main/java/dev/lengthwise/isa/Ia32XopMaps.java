package dev.lengthwise.isa;

import static dev.lengthwise.isa.ModRmForms.either;
import static dev.lengthwise.isa.ModRmForms.register;

import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.RowStep;

/** The maps behind an XOP prefix ({@link Ia32Extension#XOP}). */
final class Ia32XopMaps {

  private static final String XOP_8 = "xop_8";
  private static final String XOP_9 = "xop_9";
  private static final String XOP_A = "xop_a";

  private static final int OPCODE_BYTES = 4;

  private Ia32XopMaps() {}

  /** Adds the maps to the table. */
  static void add(LengthTable.Builder table) {
    table
        .map(XOP_8, Ia32XopMaps::write8)
        .map(XOP_9, Ia32XopMaps::write9)
        .map(XOP_A, Ia32XopMaps::writeA);
  }

  /**
   * Writes the cases of POP's second byte that make it a prefix. Bits 4-0 choose the map, from 8
   * on, so that the reg field is never the 0 of POP; bits 7-5 have no meaning in this code.
   */
  static void escapes(RowStep.NextByteRows next) {
    next.when("xxx0_1000").escape(XOP_8, 2);
    next.when("xxx0_1001").escape(XOP_9, 2);
    next.when("xxx0_1010").escape(XOP_A, 2);
  }

  /** Everything here has an immediate of one byte. */
  private static void write8(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x85, 0x87, 1).modRm(0x8e, 0x8f, 1).modRm(0x95, 0x97, 1).modRm(0x9e, 0x9f, 1);
    rows.modRm(0xa2, 0xa3, 1).modRm(0xa6, 0xa6, 1).modRm(0xb6, 0xb6, 1);
    rows.modRm(0xc0, 0xc3, 1).modRm(0xcc, 0xcf, 1).modRm(0xec, 0xef, 1);
    map.others().undefined();
  }

  private static void write9(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.only(0x01, either(1, 2, 3, 4, 5, 6, 7)).only(0x02, either(1, 6));
    rows.only(0x12, register(0, 1)).modRm(0x80, 0x83).modRm(0x90, 0x9b);
    rows.modRm(0xc1, 0xc3).modRm(0xc6, 0xc7).modRm(0xcb);
    rows.modRm(0xd1, 0xd3).modRm(0xd6, 0xd7).modRm(0xdb).modRm(0xe1, 0xe3);
    map.others().undefined();
  }

  /** Everything here has an immediate of four bytes, whatever the operand size. */
  private static void writeA(OpcodeMap.Builder map) {
    Ia32Rows rows = new Ia32Rows(map, OPCODE_BYTES);
    rows.modRm(0x10, 0x10, 4).only(0x12, either(0, 1), 4);
    map.others().undefined();
  }
}

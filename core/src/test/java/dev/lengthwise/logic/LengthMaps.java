package dev.lengthwise.logic;

import java.util.function.IntUnaryOperator;

/**
 * First-byte length maps of published instruction sets, stated by rules; 0 means undefined.
 *
 * <p>All are from memory of the manuals, checked against the counts by length that the tests state.
 */
public final class LengthMaps {

  /** A row for each high nibble, a digit for each low nibble; A5 is reserved. */
  private static final String I8051 =
      "1231121111111111"
          + "3231121111111111"
          + "3211221111111111"
          + "3211221111111111"
          + "2223221111111111"
          + "2223221111111111"
          + "2223221111111111"
          + "2221232222222222"
          + "2221132222222222"
          + "3221221111111111"
          + "2221102222222222"
          + "2221333333333333"
          + "2221121111111111"
          + "2221131122222222"
          + "1211121111111111"
          + "1211121111111111";

  private LengthMaps() {}

  static int[] of(IntUnaryOperator rule) {
    int[] map = new int[256];
    for (int op = 0; op < 256; op++) {
      map[op] = rule.applyAsInt(op);
    }
    return map;
  }

  private static void put(int[] map, int length, int... opcodes) {
    for (int op : opcodes) {
      map[op] = length;
    }
  }

  public static int[] i8051() {
    return of(op -> I8051.charAt(op) - '0');
  }

  /** The 8080 with its twelve undocumented codes undefined. */
  public static int[] i8080() {
    int[] map = i8080All();
    put(map, 0, 0x08, 0x10, 0x18, 0x20, 0x28, 0x30, 0x38, 0xcb, 0xd9, 0xdd, 0xed, 0xfd);
    return map;
  }

  /** The 8080 with the undocumented codes as the chip runs them: NOP, JMP, RET, CALL. */
  static int[] i8080All() {
    int[] map = of(op -> 1);
    put(map, 3, 0x01, 0x11, 0x21, 0x31, 0x22, 0x2a, 0x32, 0x3a, 0xc3, 0xcd, 0xcb, 0xdd, 0xed, 0xfd);
    put(map, 2, 0xd3, 0xdb);
    for (int i = 0; i < 8; i++) {
      put(map, 3, 0xc2 + 8 * i, 0xc4 + 8 * i);
      put(map, 2, 0x06 + 8 * i, 0xc6 + 8 * i);
    }
    return map;
  }

  /** The page of the Z80 without prefix; CB, DD, ED and FD are undefined here. */
  public static int[] z80() {
    int[] map = i8080All();
    put(map, 2, 0x10, 0x18, 0x20, 0x28, 0x30, 0x38);
    put(map, 0, 0xcb, 0xdd, 0xed, 0xfd);
    return map;
  }

  /** The 151 documented opcodes of the 6502. */
  public static int[] m6502(int breakLength) {
    int[] map = new int[256];
    for (int row = 0; row < 256; row += 0x10) {
      boolean odd = (row & 0x10) != 0;
      put(map, 2, row + 0x01, row + 0x05, row + 0x06);
      put(map, 1, row + 0x08);
      put(map, odd ? 3 : 2, row + 0x09);
      put(map, 3, row + 0x0d, row + 0x0e);
      if (odd) {
        put(map, 2, row);
      } else {
        put(map, 1, row + 0x0a);
        put(map, 3, row + 0x0c);
      }
    }
    put(map, breakLength, 0x00);
    put(map, 3, 0x20, 0xbc);
    put(map, 1, 0x40, 0x60, 0x9a, 0xba);
    put(map, 2, 0xa0, 0xc0, 0xe0, 0xa2, 0x24, 0x84, 0xa4, 0xc4, 0xe4, 0x94, 0xb4);
    put(map, 0, 0x0c, 0x89, 0x9e);
    return map;
  }

  /** All codes of the NMOS 6502, undocumented ones included. */
  static int[] m6502All() {
    return of(
        op -> {
          if (op == 0x20) {
            return 3;
          }
          int column = op & 0x1f;
          return switch (column) {
            case 0x00, 0x02 -> op >= 0x80 ? 2 : 1;
            case 0x08, 0x0a, 0x12, 0x18, 0x1a -> 1;
            case 0x0c, 0x0d, 0x0e, 0x0f, 0x19, 0x1b, 0x1c, 0x1d, 0x1e, 0x1f -> 3;
            default -> 2;
          };
        });
  }

  /** The 65C02 with the bit operations of columns 7 and F. */
  static int[] m65c02() {
    int[] map = m6502(1);
    for (int row = 0; row < 256; row += 0x10) {
      put(map, 2, row + 0x07);
      put(map, 3, row + 0x0f);
      if ((row & 0x10) != 0) {
        put(map, 2, row + 0x02);
      }
    }
    put(map, 2, 0x80, 0x04, 0x14, 0x34, 0x64, 0x74, 0x89);
    put(map, 1, 0x1a, 0x3a, 0x5a, 0x7a, 0xda, 0xfa);
    put(map, 3, 0x0c, 0x1c, 0x3c, 0x7c, 0x9c, 0x9e);
    return map;
  }

  /** The 65C02 with STP and WAI. */
  static int[] m65c02WithStop() {
    int[] map = m65c02();
    put(map, 1, 0xcb, 0xdb);
    return map;
  }

  /** The 65816 with 8-bit accumulator and index registers, BRK counted 1, COP and WDM 2. */
  public static int[] m65816() {
    int[] map = m65c02WithStop();
    for (int row = 0; row < 256; row += 0x10) {
      put(map, 2, row + 0x03, row + 0x04, row + 0x07);
      put(map, 1, row + 0x0a, row + 0x0b);
      put(map, 3, row + 0x0c);
      put(map, 4, row + 0x0f);
    }
    put(map, 2, 0x02, 0x42, 0xc2, 0xe2);
    put(map, 3, 0x44, 0x54, 0xf4, 0x62, 0x82);
    put(map, 4, 0x22, 0x5c);
    return map;
  }

  /** The HuC6280, block moves 7 bytes. */
  public static int[] huc6280() {
    int[] map = m65c02();
    put(map, 1, 0x02, 0x22, 0x42, 0x62, 0x82, 0xc2, 0x54, 0xd4, 0xf4);
    put(map, 2, 0x03, 0x13, 0x23, 0x43, 0x53, 0x44);
    put(map, 3, 0x83, 0xa3);
    put(map, 4, 0x93, 0xb3);
    put(map, 7, 0x73, 0xc3, 0xd3, 0xe3, 0xf3);
    return map;
  }

  /** 2 where an opcode of the one-byte map takes a ModR/M byte in 32-bit code, else 1. */
  static int[] ia32ModRm() {
    int[] map = of(op -> op < 0x40 && (op & 7) < 4 ? 2 : 1);
    for (int op = 0x80; op <= 0x8f; op++) {
      put(map, 2, op);
    }
    for (int op = 0xd8; op <= 0xdf; op++) {
      put(map, 2, op);
    }
    put(map, 2, 0x62, 0x63, 0x69, 0x6b, 0xc0, 0xc1, 0xc4, 0xc5, 0xc6, 0xc7);
    put(map, 2, 0xd0, 0xd1, 0xd2, 0xd3, 0xf6, 0xf7, 0xfe, 0xff);
    return map;
  }

  /** The same in 64-bit code, where 82 is invalid and 62, C4, C5 open other encodings. */
  static int[] amd64ModRm() {
    int[] map = ia32ModRm();
    put(map, 1, 0x62, 0x82, 0xc4, 0xc5);
    return map;
  }

  /** Prefixes, the escape 0F, and D6, which no manual defines, become undefined. */
  static int[] withoutIa32Prefixes(int[] map) {
    int[] less = map.clone();
    put(less, 0, 0x26, 0x2e, 0x36, 0x3e, 0x64, 0x65, 0x66, 0x67, 0xf0, 0xf2, 0xf3, 0x0f, 0xd6);
    return less;
  }

  /** REX, the codes invalid in 64-bit code, and 62, C4, C5 become undefined too. */
  static int[] withoutAmd64Prefixes(int[] map) {
    int[] less = withoutIa32Prefixes(map);
    for (int op = 0x40; op <= 0x4f; op++) {
      put(less, 0, op);
    }
    put(less, 0, 0x06, 0x07, 0x0e, 0x16, 0x17, 0x1e, 0x1f, 0x27, 0x2f, 0x37, 0x3f);
    put(less, 0, 0x60, 0x61, 0x82, 0x9a, 0xce, 0xd4, 0xd5, 0xea, 0x62, 0xc4, 0xc5);
    return less;
  }
}

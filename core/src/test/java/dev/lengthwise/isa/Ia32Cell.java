package dev.lengthwise.isa;

import java.util.Locale;

/**
 * Where a byte string lies in the opcode maps, read apart from the description under test.
 *
 * @param map 0 one-byte, 1 two-byte, 2 and 3 three-byte (38, 3A), 4 to 7 VEX (two-byte prefix with
 *     map 0F, three-byte prefix with 0F, 0F38, 0F3A), 8 another VEX map, 9 EVEX, -1 prefixes only
 * @param opcode the opcode byte in that map
 * @param modRm the byte after it
 * @param vex the last byte of a VEX prefix, else 0
 * @param prefixes bit 0 for 66, 1 for 67, 2 for F2, 3 for F3, 4 for F0 before the opcode
 */
record Ia32Cell(int map, int opcode, int modRm, int vex, int prefixes) {

  static final int P66 = 1;
  static final int P67 = 2;
  static final int PF2 = 4;
  static final int PF3 = 8;
  static final int PF0 = 16;
  static final int MAPS = 8;

  /** The classes of a map: opcode, register or memory operand, reg/opcode field. */
  static final int CLASSES = 256 * 16;

  static Ia32Cell of(byte[] bytes, int offset, int end) {
    int prefixes = 0;
    int cursor = offset;
    while (cursor < end) {
      int code = bytes[cursor] & 0xff;
      switch (code) {
        case 0x66 -> prefixes |= P66;
        case 0x67 -> prefixes |= P67;
        case 0xf2 -> prefixes |= PF2;
        case 0xf3 -> prefixes |= PF3;
        case 0xf0 -> prefixes |= PF0;
        case 0x26, 0x2e, 0x36, 0x3e, 0x64, 0x65 -> {}
        default -> {
          return at(bytes, cursor, end, prefixes);
        }
      }
      cursor++;
    }
    return new Ia32Cell(-1, 0, 0, 0, prefixes);
  }

  private static Ia32Cell at(byte[] bytes, int cursor, int end, int prefixes) {
    int first = read(bytes, cursor, end);
    int second = read(bytes, cursor + 1, end);
    int third = read(bytes, cursor + 2, end);
    boolean vex = second >= 0xc0;
    int map = 0;
    int at = cursor;
    int fields = 0;
    if (first == 0x0f) {
      map = second == 0x38 ? 2 : second == 0x3a ? 3 : 1;
      at = cursor + (map == 1 ? 1 : 2);
    } else if (vex && first == 0xc5) {
      map = 4;
      at = cursor + 2;
      fields = second;
    } else if (vex && first == 0xc4) {
      int select = second & 0x1f;
      map = select >= 1 && select <= 3 ? 4 + select : 8;
      at = cursor + 3;
      fields = third;
    } else if (vex && first == 0x62) {
      map = 9;
      at = cursor + 4;
    }
    return new Ia32Cell(map, read(bytes, at, end), read(bytes, at + 1, end), fields, prefixes);
  }

  private static int read(byte[] bytes, int at, int end) {
    return at < end ? bytes[at] & 0xff : 0;
  }

  boolean isVex() {
    return map >= 4 && map <= 8;
  }

  boolean isRegister() {
    return modRm >= 0xc0;
  }

  /** Returns the reg/opcode field. */
  int digit() {
    return modRm >> 3 & 7;
  }

  boolean has(int prefixMask) {
    return (prefixes & prefixMask) != 0;
  }

  /** Tells whether the cell is one of a map and an opcode. */
  boolean is(int aMap, int anOpcode) {
    return map == aMap && opcode == anOpcode;
  }

  /** Returns the class in [0, MAPS * CLASSES), or -1 outside the maps that are described. */
  int index() {
    return map < 0 || map >= MAPS
        ? -1
        : map * CLASSES + opcode * 16 + (isRegister() ? 8 : 0) + digit();
  }

  /** Returns the name of a class. */
  static String name(int index) {
    return String.format(
        Locale.ROOT,
        "map %d opcode %02x %s/%d",
        index / CLASSES,
        index / 16 % 256,
        (index & 8) == 0 ? "memory" : "register",
        index & 7);
  }
}

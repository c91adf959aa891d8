package dev.lengthwise.isa;

import java.util.SplittableRandom;

/**
 * Makes byte strings for comparisons, from a seed: a fifth wholly random, the rest led into one of
 * the opcode maps behind a few prefixes, so that rare maps are covered as well as common ones.
 */
final class Ia32Strings {

  /** The length of a string in bytes: the longest instruction. */
  static final int LENGTH = 15;

  private static final byte[] PREFIXES = {
    0x66, 0x67, (byte) 0xf2, (byte) 0xf3, (byte) 0xf0, 0x26, 0x2e, 0x36, 0x3e, 0x64, 0x65
  };

  private final SplittableRandom random;

  Ia32Strings(long seed) {
    random = new SplittableRandom(seed);
  }

  /** Writes the next string at an offset. */
  void next(byte[] out, int offset) {
    for (int i = 0; i < LENGTH; i++) {
      out[offset + i] = (byte) random.nextInt(256);
    }
    if (random.nextInt(5) == 0) {
      return;
    }
    int map = random.nextInt(24);
    boolean vex = map >= 9;
    int cursor = vex && random.nextInt(8) > 0 ? 0 : prefixes(out, offset);
    switch (map) {
      case 0, 1 -> {}
      case 2, 3, 4 -> write(out, offset, cursor, 0x0f);
      case 5, 6 -> write(out, offset, cursor, 0x0f, 0x38);
      case 7, 8 -> {
        write(out, offset, cursor, 0x0f, 0x3a);
        if (random.nextInt(8) == 0) {
          // The only row with a single ModR/M byte and one prefix, far too rare by chance.
          write(out, offset, cursor + 2, 0xf0, 0xc0);
        }
      }
      case 9, 10 -> write(out, offset, cursor, 0xc5, 0x80 | vexFields());
      case 11 -> write(out, offset, cursor, 0xc4, random.nextInt(0x100), vex3Fields());
      default -> {
        int select = 3 - random.nextInt(5) / 2;
        if (select == 2 && random.nextInt(8) == 0) {
          cursor = gather(out, offset);
        }
        write(out, offset, cursor, 0xc4, 0xc0 | random.nextInt(2) << 5 | select, vex3Fields());
      }
    }
  }

  /** Leads into the gathers, whose operands are too special to meet often by chance. */
  private int gather(byte[] out, int offset) {
    int cursor = random.nextInt(2);
    out[offset] = 0x67;
    write(out, offset, cursor + 3, 0x90 + random.nextInt(4), random.nextInt(24) << 3 | 4);
    return cursor;
  }

  /**
   * Writes no prefix, one that often completes an opcode, or some; rarely a string full of them.
   */
  private int prefixes(byte[] out, int offset) {
    int draw = random.nextInt(100);
    int count = draw < 30 ? 0 : draw < 85 ? 1 : draw < 92 ? 2 : draw < 98 ? 3 : 0;
    if (draw >= 98) {
      count = random.nextInt(LENGTH + 1);
    }
    for (int i = 0; i < count; i++) {
      out[offset + i] = PREFIXES[random.nextInt(PREFIXES.length)];
    }
    if (draw >= 30 && draw < 75) {
      out[offset] = PREFIXES[random.nextInt(5) < 3 ? 0 : random.nextInt(2) + 2];
    }
    return count;
  }

  /** Returns bits 6-0 of the last VEX byte: vvvv mostly 1111 (no operand), pp mostly 66. */
  private int vexFields() {
    int vvvv = random.nextInt(10) < 6 ? 15 : random.nextInt(16);
    int pp = random.nextInt(3) == 0 ? 1 : random.nextInt(4);
    return vvvv << 3 | random.nextInt(2) << 2 | pp | 0x40;
  }

  private int vex3Fields() {
    return vexFields() | random.nextInt(2) << 7;
  }

  private static void write(byte[] out, int offset, int cursor, int... values) {
    for (int i = 0; i < values.length && cursor + i < LENGTH; i++) {
      out[offset + cursor + i] = (byte) values[i];
    }
  }
}

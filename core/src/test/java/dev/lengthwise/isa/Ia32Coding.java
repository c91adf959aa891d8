package dev.lengthwise.isa;

import java.util.Arrays;
import java.util.Locale;

/**
 * The ways that an opcode is coded, each as a grid of byte strings: every map, opcode and operand
 * form, with the choices of prefixes or fields with which one of them could be defined.
 *
 * <p>A cell is a map, an opcode and a form; the strings of a cell differ in the choices only.
 */
enum Ia32Coding {
  /** No prefix, 66, F2 or F3, and one, two or three opcode bytes; every ModR/M byte. */
  LEGACY(256, 4, "00 01 02 03") {
    @Override
    void write(byte[] out, int at, int map, int opcode, int modRm, int choice) {
      int cursor = choice == 0 ? at : put(out, at, new int[] {0x66, 0xf2, 0xf3}[choice - 1]);
      cursor = map == 0 ? cursor : put(out, cursor, 0x0f);
      cursor = map < 2 ? cursor : put(out, cursor, map == 2 ? 0x38 : 0x3a);
      put(out, cursor, opcode, modRm);
    }
  },
  /** The VEX prefix of three bytes: pp, L, W, and vvvv that names no operand or register 1. */
  VEX(Ia32Coding.CLASSES, 32, "01 02 03") {
    @Override
    void write(byte[] out, int at, int map, int opcode, int modRm, int choice) {
      put(out, at, 0xc4, 0xe0 | map, vexFields(choice), opcode, modRm);
    }
  },
  /** The XOP prefix, with the same fields. */
  XOP(Ia32Coding.CLASSES, 32, "08 09 0a") {
    @Override
    void write(byte[] out, int at, int map, int opcode, int modRm, int choice) {
      put(out, at, 0x8f, 0xe0 | map, vexFields(choice), opcode, modRm);
    }
  },
  /** The EVEX prefix: pp, W, vectors of 128 and 512 bits, no mask or mask register 1. */
  EVEX(Ia32Coding.CLASSES, 32, "01 02 03 05 06") {
    @Override
    void write(byte[] out, int at, int map, int opcode, int modRm, int choice) {
      int third = choice & 3 | 0x7c | (choice & 4) << 5;
      int fourth = choice >> 4 | 8 | (choice & 8) << 3;
      put(out, at, 0x62, 0xf0 | map, third, fourth, opcode, modRm);
    }
  },
  /**
   * The bytes that are prefixes by their second byte: what stands for the map is the first, for the
   * opcode the second, and the choices are every opcode with two sets of fields.
   */
  SECOND_BYTE(1, 512, "62 8f c4 c5") {
    @Override
    void write(byte[] out, int at, int map, int opcode, int modRm, int choice) {
      int fields = choice < 256 ? 0x78 : 0x7d;
      int cursor = put(out, at, map, opcode);
      if (map == 0xc5) {
        put(out, cursor, choice, choice < 256 ? 0xc8 : 0x08);
      } else if (map == 0x62) {
        put(out, cursor, fields, 0x48, choice, 0xc8);
      } else {
        put(out, cursor, fields, choice, 0xc8);
      }
    }
  };

  /** The length of a string. */
  static final int STRING = 15;

  /** Memory without and with an SIB byte, and two registers, times the reg field. */
  private static final int CLASSES = 32;

  private static final int[] CLASS = {0x00, 0x04, 0xc0, 0xc1};

  /** An opcode behind 0F 0F, an SIB byte with an index, and an immediate. */
  private static final byte FILLER = (byte) 0x90;

  private final int forms;
  private final int choices;
  private final String maps;

  Ia32Coding(int forms, int choices, String maps) {
    this.forms = forms;
    this.choices = choices;
    this.maps = maps;
  }

  /** Writes one string. */
  abstract void write(byte[] out, int at, int map, int opcode, int modRm, int choice);

  /**
   * One map, opcode and ModR/M byte.
   *
   * @param coding how it is coded
   * @param map its map
   * @param opcode its opcode
   * @param modRm the byte after it
   */
  record Cell(Ia32Coding coding, int map, int opcode, int modRm) {

    boolean is(Ia32Coding aCoding, int aMap, int... opcodes) {
      return coding == aCoding
          && map == aMap
          && Arrays.stream(opcodes).anyMatch(value -> value == opcode);
    }

    boolean isRegister() {
      return modRm >= 0xc0;
    }

    /** Returns the reg/opcode field. */
    int digit() {
      return modRm >> 3 & 7;
    }

    /** Tells whether the opcode is looked at as part of another map, or of another coding. */
    boolean isElsewhere() {
      return is(LEGACY, 0, 0x0f, 0x62, 0x8f, 0xc4, 0xc5) || is(LEGACY, 1, 0x38, 0x3a);
    }

    @Override
    public String toString() {
      String name = coding.name().toLowerCase(Locale.ROOT);
      return String.format(Locale.ROOT, "%s %x %02x %02x", name, map, opcode, modRm);
    }
  }

  int cells() {
    return (maps.length() + 1) / 3 * 256 * forms;
  }

  /** Returns how many strings a cell has. */
  int choices() {
    return choices;
  }

  Cell cell(int index) {
    return new Cell(this, map(index), index / forms % 256, modRm(index % forms));
  }

  private int map(int index) {
    int at = index / forms / 256 * 3;
    return Integer.parseInt(maps.substring(at, at + 2), 16);
  }

  private int modRm(int form) {
    return forms == CLASSES ? CLASS[form % 4] | form / 4 << 3 : form;
  }

  /** Returns every string, those of a cell one after the other. */
  byte[] strings() {
    byte[] out = new byte[cells() * choices * STRING];
    for (int string = 0; string < cells() * choices; string++) {
      write(out, string * STRING, string / choices, string % choices);
    }
    return out;
  }

  /** Writes one string of a cell. */
  void write(byte[] out, int at, int index, int choice) {
    Arrays.fill(out, at, at + STRING, FILLER);
    int opcode = index / forms % 256;
    write(out, at, map(index), opcode, modRm(index % forms), choice);
  }

  private static int vexFields(int choice) {
    return choice & 7 | (choice & 8) << 4 | 0x70 | (choice & 16) >> 1;
  }

  private static int put(byte[] out, int at, int... values) {
    for (int i = 0; i < values.length; i++) {
      out[at + i] = (byte) values[i];
    }
    return at + values.length;
  }
}

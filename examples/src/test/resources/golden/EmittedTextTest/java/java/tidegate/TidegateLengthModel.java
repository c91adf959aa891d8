package tidegate;

/**
 * The true lengths of the instructions of tidegate.
 *
 * <p>Written from the description of the instruction set; uses no library. Each opcode map has
 * a letter for each opcode, and {@code row} says what a letter means; equal rows of all maps
 * share a letter.
 */
public final class TidegateLengthModel {
  /**
   * The bit of mode wide in a mode word.
   */
  public static final int MODE_WIDE = 1 << 0;

  private static final int ALL_MODES = MODE_WIDE;

  /**
   * The longest legal instruction, prefixes counted, in bytes.
   */
  public static final int LONGEST = 12;

  /**
   * The most prefixes that may stand before an opcode.
   */
  public static final int MOST_PREFIXES = 3;

  /**
   * The outcome where no map defines the opcode.
   */
  public static final int UNDEFINED = 0;

  /**
   * The outcome where the instruction goes on past the last byte.
   */
  public static final int TOO_FEW_BYTES = -1;

  /**
   * The outcome behind more than {@value #MOST_PREFIXES} prefixes.
   */
  public static final int TOO_MANY_PREFIXES = -2;

  /**
   * The outcome where the instruction is longer than {@value #LONGEST} bytes.
   */
  public static final int TOO_LONG = -3;

  private static final int NOT_A_PREFIX = -1;

  /**
   * Map base. The row of each opcode, high digit down, low digit across.
   */
  private static final String MAP_BASE =
      ""
          // 0123456789abcdef
          + "aaabaaaaaaaabbbb" // 00
          + "cccccccccccccccc" // 10
          + "deecbbbbaaaafgh." // 20
          + "cccccccccccchhhh" // 30
          + "cchdaaaacchdaaaa" // 40
          + "ccheaaaacchaaaaa" // 50
          + "cccccccchhhhigg." // 60
          + "aaaaaaaaaaaaaaaa" // 70
          + "bbbbbbbbbbbbbbbb" // 80
          + "jjjjjjjjjjjjjjjj" // 90
          + "jbabccggbbbbbbbb" // a0
          + "bbbbbbbbjjjjjjjj" // b0
          + "dkbfaaaa........" // c0
          + "bbbbbbbbggggclaa" // d0
          + "................" // e0
          + "..............m.";

  /**
   * The row by the byte after opcode 0x6c of map base.
   */
  private static final String AFTER_BASE_6C =
      ""
          // 0123456789abcdef
          + "gggggggggggggggg" // 00
          + "gggggggggggggggg" // 10
          + "bbbbbbbbbbbbbbbb" // 20
          + "bbbbbbbbbbbbbbbb" // 30
          + "ffffffffffffffff" // 40
          + "ffffffffffffffff" // 50
          + "ffffffffffffffff" // 60
          + "ffffffffffffffff" // 70
          + "................" // 80
          + "................" // 90
          + "................" // a0
          + "................" // b0
          + "................" // c0
          + "................" // d0
          + "................" // e0
          + "................";

  /**
   * Map survey. The row of each opcode, high digit down, low digit across.
   */
  private static final String MAP_SURVEY =
      ""
          // 0123456789abcdef
          + "bbbbbbbbbbbbbbbb" // 00
          + "dddddddddddddddd" // 10
          + "ggggggggnodddddd" // 20
          + "ffffffffffffffff" // 30
          + "pbdd....pbdd...." // 40
          + "pbdd....pbdd...." // 50
          + "pbdd....pbdd...." // 60
          + "pbdd....pbdd...." // 70
          + "qqqqqqqqqqqqqqqq" // 80
          + "r..............." // 90
          + "................" // a0
          + "................" // b0
          + "................" // c0
          + "................" // d0
          + "................" // e0
          + "................";

  private TidegateLengthModel() {
  }

  /**
   * Returns the length of the instruction at an offset.
   *
   * @param modes the modes before the first prefix, a word of the MODE bits
   * @param memory the bytes
   * @param offset where the instruction starts, in [0, end]
   * @param end where the bytes given end, in [0, memory.length]
   * @return the length in bytes, prefixes counted, in [1, {@value #LONGEST}]; or, not positive,
   *     {@link #UNDEFINED}, {@link #TOO_FEW_BYTES}, {@link #TOO_MANY_PREFIXES} or {@link #TOO_LONG}
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the offset or the end is out of range
   */
  public static int lengthAt(int modes, byte[] memory, int offset, int end) {
    if ((modes & ~ALL_MODES) != 0) {
      throw new IllegalArgumentException(
          "table tidegate: a mode word may have the bits 0x1 wide, found 0x"
          + Integer.toHexString(modes));
    }
    if ((offset | end - offset | memory.length - end) < 0) {
      throw new IndexOutOfBoundsException(
          "bytes for tidegate: "
          + "offset and end must ascend in [0, "
          + memory.length
          + "], found " + offset + " and " + end);
    }
    int current = modes;
    int cursor = offset;
    int prefixes = 0;
    while (true) {
      if (cursor - offset >= LONGEST) {
        return TOO_LONG;
      }
      if (end - cursor < 1) {
        return TOO_FEW_BYTES;
      }
      int after = afterPrefix(codeAt(memory, cursor), modes, current);
      if (after == NOT_A_PREFIX) {
        break;
      }
      if (++prefixes > MOST_PREFIXES) {
        return TOO_MANY_PREFIXES;
      }
      current = after;
      cursor += 1;
    }
    int length = mapBase(memory, cursor, end, current);
    if (length <= 0) {
      return length;
    }
    length += cursor - offset;
    if (length > LONGEST) {
      return TOO_LONG;
    }
    return length > end - offset ? TOO_FEW_BYTES : length;
  }

  /**
   * Returns the modes after a prefix, or NOT_A_PREFIX.
   *
   * @param code the code unit
   * @param initial the modes before the first prefix, which flips go by
   * @param modes the modes before this prefix
   */
  private static int afterPrefix(int code, int initial, int modes) {
    return switch (code) {
      case 0xf0 -> modes & ~MODE_WIDE | ~initial & MODE_WIDE;
      case 0xf1 -> modes;
      default -> NOT_A_PREFIX;
    };
  }

  private static int codeAt(byte[] memory, int at) {
    return memory[at] & 0xff;
  }

  /**
   * Looks up the opcode of map base that starts at {@code at}.
   */
  private static int mapBase(byte[] memory, int at, int end, int modes) {
    if (end - at < 1) {
      return TOO_FEW_BYTES;
    }
    int next = at + 1;
    return row(MAP_BASE.charAt(codeAt(memory, at)), memory, next, end, modes);
  }

  /**
   * Looks up the opcode of map survey that starts at {@code at}.
   */
  private static int mapSurvey(byte[] memory, int at, int end, int modes) {
    if (end - at < 1) {
      return TOO_FEW_BYTES;
    }
    int next = at + 1;
    return row(MAP_SURVEY.charAt(codeAt(memory, at)), memory, next, end, modes);
  }

  /**
   * Returns what a row says; {@code next} is the place of the byte after the opcode.
   */
  private static int row(char row, byte[] memory, int next, int end, int modes) {
    return switch (row) {
      case 'a' -> 1;
      case 'b' -> 2;
      case 'c' -> plus(2, specifierPlace(memory, next, end, modes));
      case 'd' -> plus(3, specifierPlace(memory, next, end, modes));
      case 'e' -> plus((modes & MODE_WIDE) != 0 ? 4 : 3, specifierPlace(memory, next, end, modes));
      case 'f' -> 4;
      case 'g' -> 3;
      case 'h' -> (modes & MODE_WIDE) != 0 ? 3 : 2;
      case '.' -> UNDEFINED;
      case 'i' -> next < end
          ? row(AFTER_BASE_6C.charAt(memory[next] & 0xff), memory, next, end, modes)
          : TOO_FEW_BYTES;
      case 'j' -> (modes & MODE_WIDE) != 0 ? 5 : 3;
      case 'k' -> plus((modes & MODE_WIDE) != 0 ? 6 : 4, specifierPlace(memory, next, end, modes));
      case 'l' -> 5;
      case 'm' -> mapSurvey(memory, next, end, modes);
      case 'n' -> plus((modes & MODE_WIDE) != 0 ? 5 : 4, specifierPlace(memory, next, end, modes));
      case 'o' -> plus(4, specifierPlace(memory, next, end, modes));
      case 'p' -> (modes & MODE_WIDE) != 0 ? 4 : 3;
      case 'q' -> (modes & MODE_WIDE) != 0 ? 6 : 4;
      case 'r' -> 7;
      default -> throw new AssertionError(row);
    };
  }

  /**
   * Returns the bytes that operand specifier place at {@code at} adds after itself.
   */
  private static int specifierPlace(byte[] memory, int at, int end, int modes) {
    if (at >= end) {
      return TOO_FEW_BYTES;
    }
    int value = memory[at] & 0xff;
    if ((value & 0xc4) == 0x00) { // 00xx_x0xx
      return 0;
    }
    if ((value & 0xc6) == 0x04) { // 00xx_x10x
      return 0;
    }
    if ((value & 0xc7) == 0x06) { // 00xx_x110
      return 1;
    }
    if ((modes & MODE_WIDE) == 0 && (value & 0xc7) == 0x07) { // 00xx_x111
      return 2;
    }
    if ((modes & MODE_WIDE) != 0 && (value & 0xc7) == 0x07) { // 00xx_x111
      if (at + 1 >= end) {
        return TOO_FEW_BYTES;
      }
      int next = memory[at + 1] & 0xff;
      if ((next & 0x01) == 0x00) { // then xxxx_xxx0
        return 3;
      }
      if ((next & 0x01) == 0x01) { // then xxxx_xxx1
        return 5;
      }
    }
    if ((value & 0xc0) == 0x40) { // 01xx_xxxx
      return 1;
    }
    if ((value & 0xc0) == 0x80) { // 10xx_xxxx
      return 2;
    }
    if ((value & 0xc0) == 0xc0) { // 11xx_xxxx
      return 0;
    }
    throw new AssertionError(value);
  }

  /**
   * Adds what a specifier says, unless it says TOO_FEW_BYTES.
   */
  private static int plus(int bytes, int added) {
    return added == TOO_FEW_BYTES ? TOO_FEW_BYTES : bytes + added;
  }
}

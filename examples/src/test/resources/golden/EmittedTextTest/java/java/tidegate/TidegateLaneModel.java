package tidegate;

/**
 * What lane tidegate_lane of tidegate says: a length, or 0 where the slow path must decide.
 *
 * <p>Written from the description of the lane; uses no library. The lane sees its own byte
 * and 3 after it, says lengths of up to 8 bytes, and follows the bytes after an opcode
 * to depth EVERYTHING. Each opcode map has a letter for each opcode, and {@code row} says what a
 * letter means.
 *
 * <p>Left to the slow path:
 *
 * <ul>
 *   <li>survey 0x30-0x3f
 * </ul>
 */
public final class TidegateLaneModel {
  /**
   * The bit of mode wide in a mode word.
   */
  public static final int MODE_WIDE = 1 << 0;

  private static final int ALL_MODES = MODE_WIDE;

  /**
   * The bytes after its own that the lane sees.
   */
  public static final int LOOKAHEAD = 3;

  /**
   * The longest length that the lane says, in bytes.
   */
  public static final int LONGEST = 8;

  /**
   * What the lane says where the slow path must decide.
   */
  public static final int NOT_HANDLED = 0;

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
          + "aa............m.";

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
          + "................" // 30
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

  private TidegateLaneModel() {
  }

  /**
   * Returns what the lane says of the bytes from an offset on.
   *
   * @param modes the modes at the lane's inputs, a word of the MODE bits
   * @param memory the bytes; those past the end read as 0
   * @param offset where the lane's own byte is, at least 0
   * @return a length in [1, {@value #LONGEST}], or {@link #NOT_HANDLED}
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the offset is negative
   */
  public static int lengthAt(int modes, byte[] memory, int offset) {
    if ((modes & ~ALL_MODES) != 0) {
      throw new IllegalArgumentException(
          "table tidegate: a mode word may have the bits 0x1 wide, found 0x"
          + Integer.toHexString(modes));
    }
    if (offset < 0) {
      throw new IndexOutOfBoundsException(
          "lane tidegate_lane: "
          + "an offset must be at least 0, found " + offset);
    }
    int length = mapBase(memory, offset, modes);
    return length > LONGEST ? NOT_HANDLED : length;
  }

  private static int codeAt(byte[] memory, int at) {
    return byteAt(memory, at);
  }

  /**
   * Looks up the opcode of map base that starts at {@code at}.
   */
  private static int mapBase(byte[] memory, int at, int modes) {
    int next = at + 1;
    return row(MAP_BASE.charAt(codeAt(memory, at)), memory, next, modes);
  }

  /**
   * Looks up the opcode of map survey that starts at {@code at}.
   */
  private static int mapSurvey(byte[] memory, int at, int modes) {
    int next = at + 1;
    return row(MAP_SURVEY.charAt(codeAt(memory, at)), memory, next, modes);
  }

  /**
   * Returns what a row says; {@code next} is the place of the byte after the opcode.
   */
  private static int row(char row, byte[] memory, int next, int modes) {
    return switch (row) {
      case 'a' -> 1;
      case 'b' -> 2;
      case 'c' -> 2 + specifierPlace(memory, next, modes);
      case 'd' -> 3 + specifierPlace(memory, next, modes);
      case 'e' -> ((modes & MODE_WIDE) != 0 ? 4 : 3) + specifierPlace(memory, next, modes);
      case 'f' -> 4;
      case 'g' -> 3;
      case 'h' -> (modes & MODE_WIDE) != 0 ? 3 : 2;
      case '.' -> NOT_HANDLED;
      case 'i' -> row(AFTER_BASE_6C.charAt(byteAt(memory, next)), memory, next, modes);
      case 'j' -> (modes & MODE_WIDE) != 0 ? 5 : 3;
      case 'k' -> ((modes & MODE_WIDE) != 0 ? 6 : 4) + specifierPlace(memory, next, modes);
      case 'l' -> 5;
      case 'm' -> mapSurvey(memory, next, modes);
      case 'n' -> ((modes & MODE_WIDE) != 0 ? 5 : 4) + specifierPlace(memory, next, modes);
      case 'o' -> 4 + specifierPlace(memory, next, modes);
      case 'p' -> (modes & MODE_WIDE) != 0 ? 4 : 3;
      case 'q' -> (modes & MODE_WIDE) != 0 ? 6 : 4;
      case 'r' -> 7;
      default -> throw new AssertionError(row);
    };
  }

  /**
   * Returns the bytes that operand specifier place at {@code at} adds after itself.
   */
  private static int specifierPlace(byte[] memory, int at, int modes) {
    int value = byteAt(memory, at);
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
      int next = byteAt(memory, at + 1);
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

  private static int byteAt(byte[] memory, int at) {
    return Integer.compareUnsigned(at, memory.length) < 0 ? memory[at] & 0xff : 0;
  }
}

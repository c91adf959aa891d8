package dev.lengthwise.study.item;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.PrefixRules;
import java.util.List;

/**
 * How a lane takes an instruction apart: prefixes that are items of their own, and the last item.
 *
 * <p>Packed in a byte, so that the answers for a long trace fit in memory.
 */
public final class LaneItems {

  private static final int EXACT = 1;
  private static final int SAID = 2;
  private static final int PREFIX_SHIFT = 2;

  private final LaneModel model;
  private final CodeUnit unit;
  private final List<String> modeNames;
  private final PrefixRules.Prefix[] prefixes;
  private final boolean[] isFolded;

  /**
   * Starts for a lane.
   *
   * @param model the lane
   */
  public LaneItems(LaneModel model) {
    this.model = model;
    Predecoder lane = model.lane();
    this.unit = lane.instructionSet().table().unit();
    this.modeNames = lane.instructionSet().table().modes();
    this.prefixes = new PrefixRules.Prefix[unit.codes()];
    this.isFolded = new boolean[unit.codes()];
    lane.instructionSet()
        .prefixes()
        .prefixes()
        .forEach(
            (code, prefix) -> {
              prefixes[code] = prefix;
              isFolded[code] = lane.prefixes().get(code).most() > 0;
            });
  }

  /**
   * Follows the items of one instruction; the pipeline keeps the modes that prefixes change.
   *
   * @param memory has the instruction, and a code unit behind it
   * @param modes the modes before the first prefix
   * @param offset where the instruction starts
   * @param length its true length
   * @return what the static methods read
   */
  public byte of(byte[] memory, int offset, int length, int modes) {
    int end = offset + length;
    int cursor = offset;
    int current = modes;
    int count = 0;
    while (true) {
      int said = model.lengthAt(current, memory, cursor);
      int code = unit.read(memory, cursor);
      PrefixRules.Prefix prefix = prefixes[code];
      // A folded prefix belongs to the item; one that is an item is one unit long.
      boolean item = prefix != null && said == unit.bytes() && !isFolded[code];
      if (!item || cursor + said >= end) {
        return pack(count, said, !item && cursor + said == end);
      }
      current = prefix.apply(modeNames, modes, current);
      cursor += said;
      count++;
    }
  }

  private static byte pack(int prefixes, int said, boolean exact) {
    int answer = said == LaneModel.NOT_HANDLED ? 0 : exact ? SAID | EXACT : SAID;
    return (byte) (prefixes << PREFIX_SHIFT | answer);
  }

  /** Returns the answer of the same lane when the slow path is to decide the last item. */
  static byte withoutLastItem(byte items) {
    return (byte) (items & ~(SAID | EXACT));
  }

  /**
   * Tells whether the lane says a length, right or wrong, for the last item.
   *
   * @param items what {@link #of} returned
   * @return true if it does
   */
  public static boolean isHandled(byte items) {
    return (items & SAID) != 0;
  }

  /**
   * Tells whether the lane says the right length.
   *
   * @param items what {@link #of} returned
   * @return true if it is
   */
  public static boolean isExact(byte items) {
    return (items & EXACT) != 0;
  }

  /**
   * Returns the prefixes that are items of their own, in [0, 62].
   *
   * @param items what {@link #of} returned
   * @return items
   */
  public static int prefixItems(byte items) {
    return (items & 0xff) >> PREFIX_SHIFT;
  }
}

package dev.lengthwise.study;

import dev.lengthwise.predecode.LaneModel;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.util.Optional;

/**
 * How a lane takes an instruction apart: prefixes that are items of their own, and the last item.
 *
 * <p>Packed in a byte, so that the answers for a long trace fit in memory.
 */
final class LaneItems {

  private static final int EXACT = 1;
  private static final int SAID = 2;
  private static final int PREFIX_SHIFT = 2;

  private LaneItems() {}

  /**
   * Follows the items of one instruction; the pipeline keeps the modes that prefixes change.
   *
   * @param memory has the instruction, and some bytes behind it
   * @param modes the modes before the first prefix
   */
  static byte of(LaneModel lane, byte[] memory, int offset, int length, int modes) {
    InstructionSet set = lane.lane().instructionSet();
    int end = offset + length;
    int cursor = offset;
    int current = modes;
    int prefixes = 0;
    while (true) {
      int said = lane.lengthAt(memory, cursor, current);
      Optional<PrefixRules.Prefix> prefix = set.prefixes().prefix(unit(set, memory, cursor));
      // A folded prefix belongs to the item; one that is an item is one unit long.
      boolean item =
          prefix.isPresent()
              && said == set.table().unit().bytes()
              && lane.lane().prefixes().get(prefix.get().code()).most() == 0;
      if (!item || cursor + said >= end) {
        return pack(prefixes, said, !item && cursor + said == end);
      }
      current = prefix.get().apply(set.table().modes(), modes, current);
      cursor += said;
      prefixes++;
    }
  }

  private static int unit(InstructionSet set, byte[] memory, int offset) {
    return set.table().unit().read(memory, offset);
  }

  private static byte pack(int prefixes, int said, boolean exact) {
    int answer = said == LaneModel.NOT_HANDLED ? 0 : exact ? SAID | EXACT : SAID;
    return (byte) (prefixes << PREFIX_SHIFT | answer);
  }

  /** Returns the answer of the same lane when the slow path is to decide the last item. */
  static byte withoutLastItem(byte items) {
    return (byte) (items & ~(SAID | EXACT));
  }

  /** Tells whether the lane says a length, right or wrong, for the last item. */
  static boolean isHandled(byte items) {
    return (items & SAID) != 0;
  }

  /** Tells whether the lane says the right length. */
  static boolean isExact(byte items) {
    return (items & EXACT) != 0;
  }

  /** Returns the prefixes that are items of their own, in [0, 62]. */
  static int prefixItems(byte items) {
    return (items & 0xff) >> PREFIX_SHIFT;
  }
}

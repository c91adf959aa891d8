package dev.lengthwise.study;

import dev.lengthwise.predecode.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;

/**
 * What lanes say of the distinct instructions of a stream.
 *
 * <p>Lanes that differ in the rows left out share the work: a row left out makes the last item of
 * its instructions not handled and changes nothing else.
 */
final class StreamAnswers {

  private final InstructionBytes bytes;

  /** The opcodes that the truth reads for an instruction, in its maps; the last is its row's. */
  private final List<List<OpcodePaths.Opcode>> paths = new ArrayList<>();

  /** For each distinct instruction its path. */
  private final int[] pathOf;

  private final Map<List<Object>, byte[]> known = new ConcurrentHashMap<>();

  StreamAnswers(InstructionBytes bytes) {
    this.bytes = bytes;
    this.pathOf = new int[bytes.distinct()];
    OpcodePaths finder = new OpcodePaths(bytes.set());
    for (int i = 0; i < pathOf.length; i++) {
      pathOf[i] = finder.number(bytes.memory(), bytes.offset(i), bytes.length(i));
    }
    paths.addAll(finder.paths());
  }

  /** Returns the answers of a lane, each packed by {@link LaneItems}; to be read only. */
  byte[] of(Predecoder lane) {
    byte[] all = ofAllRows(lane);
    if (lane.leftOut().isEmpty()) {
      return all;
    }
    boolean[] leftOut = new boolean[paths.size()];
    for (int p = 0; p < leftOut.length; p++) {
      leftOut[p] =
          paths.get(p).stream().anyMatch(opcode -> lane.leavesOut(opcode.map(), opcode.code()));
    }
    byte[] items = all.clone();
    for (int i = 0; i < items.length; i++) {
      if (leftOut[pathOf[i]]) {
        items[i] = LaneItems.withoutLastItem(items[i]);
      }
    }
    return items;
  }

  /** Returns the answers of a lane as if it left out no row. */
  private byte[] ofAllRows(Predecoder lane) {
    if (!lane.instructionSet().equals(bytes.set())) {
      throw new IllegalArgumentException(
          "lane %s: a lane of instruction set %s is expected, found one of %s"
              .formatted(
                  lane.name(), bytes.set().table().name(), lane.instructionSet().table().name()));
    }
    List<Object> key =
        List.of(
            lane.lookahead(), lane.longest(), lane.depth(), lane.prefixes(), lane.undefinedRows());
    return known.computeIfAbsent(key, k -> compute(withAllRows(lane)));
  }

  private static Predecoder withAllRows(Predecoder lane) {
    return new Predecoder(
        lane.name(),
        lane.instructionSet(),
        lane.lookahead(),
        lane.longest(),
        lane.depth(),
        lane.prefixes(),
        lane.undefinedRows(),
        List.of());
  }

  private byte[] compute(Predecoder lane) {
    LaneItems split = new LaneItems(LaneModel.of(lane));
    byte[] items = new byte[bytes.distinct()];
    for (int i = 0; i < items.length; i++) {
      items[i] = split.of(bytes.memory(), bytes.offset(i), bytes.length(i), bytes.modes());
    }
    return items;
  }

  /** Returns the paths of the stream's instructions. */
  List<List<OpcodePaths.Opcode>> paths() {
    return List.copyOf(paths);
  }

  /** Returns the instructions that a lane is exact for, by path, as if it left out no row. */
  long[] exactByPath(Predecoder lane) {
    byte[] items = ofAllRows(lane);
    long[] sums = new long[paths.size()];
    for (int i = 0; i < items.length; i++) {
      sums[pathOf[i]] += LaneItems.isExact(items[i]) ? bytes.count(i) : 0;
    }
    return sums;
  }

  /** Returns the most bytes of a last item that a lane is exact for, or 0 if it never is. */
  int longestExact(Predecoder lane) {
    byte[] items = of(lane);
    int unit = bytes.set().table().unit().bytes();
    int longest = 0;
    for (int i = 0; i < items.length; i++) {
      if (LaneItems.isExact(items[i])) {
        longest = Math.max(longest, bytes.length(i) - unit * LaneItems.prefixItems(items[i]));
      }
    }
    return longest;
  }
}

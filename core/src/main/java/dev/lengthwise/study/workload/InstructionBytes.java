package dev.lengthwise.study.workload;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.study.item.LaneItems;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;

/** The distinct instructions of a trace whose bytes an image has. */
final class InstructionBytes {

  /** Bytes kept for each instruction: all that a lane at its last byte can read, and a unit. */
  private static final int STRIDE = TraceCounts.LONGEST + Predecoder.MOST_LOOKAHEAD + 2;

  /** The lanes whose answers are kept: front ends of one lane are tried one after the other. */
  private static final int MOST_KEPT = 4;

  private final InstructionSet set;
  private final int modes;
  private final TraceCounts counts;
  private final byte[] memory;
  private final int[] offsets;

  /** For each known instruction its place in the counts, and the other way round, -1 for none. */
  private final int[] places;

  private final int[] known;

  /** What the lanes tried last said. */
  private final Map<Predecoder, byte[]> items =
      new LinkedHashMap<>(16, 0.75f, true) {
        @Override
        protected boolean removeEldestEntry(Map.Entry<Predecoder, byte[]> eldest) {
          return size() > MOST_KEPT;
        }
      };

  /** Copies the bytes of the instructions from the image; bytes behind each read as 0. */
  InstructionBytes(CodeStream stream, InstructionSet set, int modes) {
    this.set = set;
    this.modes = modes;
    this.counts = stream.counts();
    this.known = new int[counts.distinct()];
    int[] placesFound = new int[counts.distinct()];
    int[] offsetsFound = new int[counts.distinct()];
    byte[] bytes = new byte[1 << 12];
    int found = 0;
    int end = 0;
    for (int i = 0; i < known.length; i++) {
      Work.check();
      byte[] code = new byte[counts.length(i)];
      known[i] = -1;
      if (stream.image().read(counts.address(i), code) == code.length) {
        if (bytes.length < end + STRIDE) {
          bytes = Arrays.copyOf(bytes, Math.addExact(2 * bytes.length, STRIDE));
        }
        System.arraycopy(code, 0, bytes, end, code.length);
        offsetsFound[found] = end;
        placesFound[found] = i;
        known[i] = found++;
        end += code.length + Predecoder.MOST_LOOKAHEAD + 2;
      }
    }
    if (found == 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "stream %s: an image with the code of its instructions is expected, found none of %d",
              stream.name(),
              counts.distinct()));
    }
    this.memory = Arrays.copyOf(bytes, end + STRIDE);
    this.offsets = Arrays.copyOf(offsetsFound, found);
    this.places = Arrays.copyOf(placesFound, found);
  }

  InstructionSet set() {
    return set;
  }

  /**
   * Returns how a lane takes the instructions apart, each packed by {@link LaneItems}; to be read
   * only.
   */
  synchronized byte[] items(Predecoder lane) {
    return items.computeIfAbsent(lane, this::split);
  }

  private byte[] split(Predecoder lane) {
    if (!lane.instructionSet().equals(set)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lane %s: a lane of instruction set %s is expected, found one of %s",
              lane.name(),
              set.table().name(),
              lane.instructionSet().table().name()));
    }
    LaneItems split = new LaneItems(LaneModel.of(lane));
    byte[] found = new byte[places.length];
    for (int i = 0; i < found.length; i++) {
      Work.check();
      found[i] = split.of(memory, offsets[i], length(i), modes);
    }
    return found;
  }

  /** Returns the place of an instruction here by its place in the counts, or -1. */
  int known(int place) {
    return known[place];
  }

  long address(int index) {
    return counts.address(places[index]);
  }

  int length(int index) {
    return counts.length(places[index]);
  }
}

package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.table.InstructionSet;
import java.util.Arrays;

/** The distinct instructions of a trace whose bytes an image has. Immutable. */
final class InstructionBytes {

  /** Bytes kept for each instruction: all that a lane at its last byte can read, and a unit. */
  private static final int STRIDE = TraceCounts.LONGEST + Predecoder.MOST_LOOKAHEAD + 2;

  private final InstructionSet set;
  private final int modes;
  private final TraceCounts counts;
  private final byte[] memory;
  private final int[] offsets;

  /** For each known instruction its place in the counts, and the other way round, -1 for none. */
  private final int[] places;

  private final int[] known;
  private final long instructions;

  private InstructionBytes(
      InstructionSet set,
      int modes,
      TraceCounts counts,
      byte[] memory,
      int[] offsets,
      int[] places,
      int[] known) {
    this.set = set;
    this.modes = modes;
    this.counts = counts;
    this.memory = memory;
    this.offsets = offsets;
    this.places = places;
    this.known = known;
    this.instructions = Arrays.stream(places).mapToLong(counts::count).sum();
  }

  /** Copies the bytes of the instructions from the image; bytes behind each read as 0. */
  static InstructionBytes of(
      String name, InstructionSet set, int modes, CodeImage image, TraceCounts counts) {
    int[] known = new int[counts.distinct()];
    int[] places = new int[counts.distinct()];
    int[] offsets = new int[counts.distinct()];
    byte[] memory = new byte[1 << 12];
    int found = 0;
    int end = 0;
    for (int i = 0; i < known.length; i++) {
      byte[] code = new byte[counts.length(i)];
      known[i] = -1;
      if (image.read(counts.address(i), code) == code.length) {
        if (memory.length < end + STRIDE) {
          memory = Arrays.copyOf(memory, Math.addExact(2 * memory.length, STRIDE));
        }
        System.arraycopy(code, 0, memory, end, code.length);
        offsets[found] = end;
        places[found] = i;
        known[i] = found++;
        end += code.length + Predecoder.MOST_LOOKAHEAD + 2;
      }
    }
    if (found == 0) {
      throw new IllegalArgumentException(
          "stream %s: an image with the code of its instructions is expected, found none of %d"
              .formatted(name, counts.distinct()));
    }
    return new InstructionBytes(
        set,
        modes,
        counts,
        Arrays.copyOf(memory, end + STRIDE),
        Arrays.copyOf(offsets, found),
        Arrays.copyOf(places, found),
        known);
  }

  InstructionSet set() {
    return set;
  }

  int modes() {
    return modes;
  }

  int distinct() {
    return places.length;
  }

  long instructions() {
    return instructions;
  }

  long unknown() {
    return counts.instructions() - instructions;
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

  long count(int index) {
    return counts.count(places[index]);
  }

  /** Returns the bytes of all instructions, to be read only. */
  byte[] memory() {
    return memory;
  }

  int offset(int index) {
    return offsets[index];
  }
}

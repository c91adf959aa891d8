package dev.lengthwise.lane.network;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.ReferenceLane;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

class LaneDiagramTest {

  private static final LaneFunction SHAPE = ReferenceLane.shape(true);

  /** Whatever input is seen to change a bit between two points that matter is among the inputs. */
  @Test
  void reads_hasWhatChangesABit() {
    List<Set<Integer>> reads = reads();
    Random random = new Random(5);
    int inputs = 8 * SHAPE.bytes() + 1;
    for (int round = 0; round < 100_000; round++) {
      long point = random.nextLong();
      int input = random.nextInt(inputs);
      int one = length(point);
      int other = length(point ^ 1L << input);
      for (int bit = 0; bit < SHAPE.lengthBits(); bit++) {
        if (one != LaneFunction.ANYTHING
            && other != LaneFunction.ANYTHING
            && ((one ^ other) >> bit & 1) != 0) {
          assertWithMessage("bit %s", bit).that(reads.get(bit)).contains(input);
        }
      }
    }
  }

  /** The lane depends on 25 of its inputs: both opcodes, the bits of specifiers and the mode. */
  @Test
  void reads_allBitsTogether_areTheInputsThatMatter() {
    Set<Integer> all = reads().stream().flatMap(Set::stream).collect(Collectors.toSet());
    assertThat(all).hasSize(25);
    assertThat(all).contains(8 * SHAPE.bytes());
  }

  private static List<Set<Integer>> reads() {
    LaneDiagram diagram = new LaneDiagram(SHAPE);
    List<Set<Integer>> reads = new ArrayList<>();
    for (int bit = 0; bit < SHAPE.lengthBits(); bit++) {
      reads.add(
          IntStream.of(diagram.reads(bit)).boxed().collect(Collectors.toCollection(TreeSet::new)));
    }
    return reads;
  }

  private static int length(long point) {
    int[] window = new int[SHAPE.bytes()];
    for (int at = 0; at < window.length; at++) {
      window[at] = (int) (point >> 8 * at) & 0xff;
    }
    return SHAPE.length(window, (int) (point >> 8 * window.length) & 1);
  }
}

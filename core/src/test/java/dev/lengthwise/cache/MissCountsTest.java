package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Hits and misses of worked examples: pages in frames are lines in a cache of one set.
 *
 * <p>Strings and counts are from memory of the books named, and agree with a simulation of our own
 * that shares nothing with the model; Belady's are also in lecture slides on the web (JHU CS418).
 */
class MissCountsTest {

  private static final String BELADY = "Belady, anomaly in space-time characteristics, 1969";
  private static final String SILBERSCHATZ =
      "Silberschatz, Galvin, Gagne, Operating System Concepts, page replacement";
  private static final String SILBERSCHATZ_EXERCISE =
      "Silberschatz, Galvin, Gagne, exercise on one to seven frames";
  private static final String TANENBAUM = "Tanenbaum, Modern Operating Systems, exercise";

  private static final int[] BELADY_STRING = {1, 2, 3, 4, 1, 2, 5, 1, 2, 3, 4, 5};
  private static final int[] SILBERSCHATZ_STRING = {
    7, 0, 1, 2, 0, 3, 0, 4, 2, 3, 0, 3, 2, 1, 2, 0, 1, 7, 0, 1
  };
  private static final int[] EXERCISE_STRING = {
    1, 2, 3, 4, 2, 1, 5, 6, 2, 1, 2, 3, 7, 6, 3, 2, 1, 2, 3, 6
  };
  private static final int[] TANENBAUM_STRING = {0, 1, 7, 2, 3, 2, 7, 1, 0, 3};

  /** The misses that a source states, by ways from {@code fewestWays} on. */
  private record Example(
      String source,
      List<Integer> blocks,
      Replacement replacement,
      int fewestWays,
      List<Integer> misses) {

    Example(
        String source, int[] blocks, Replacement replacement, int fewestWays, Integer... misses) {
      this(
          source, Arrays.stream(blocks).boxed().toList(), replacement, fewestWays, List.of(misses));
    }

    @Override
    public String toString() {
      return source + ", " + replacement.label();
    }
  }

  static Stream<Example> examples() {
    return Stream.of(
        new Example(BELADY, BELADY_STRING, Replacement.FIFO, 3, 9, 10, 5),
        new Example(BELADY, BELADY_STRING, Replacement.LRU, 3, 10, 8, 5),
        new Example(
            "the same string, an example of our own", BELADY_STRING, Replacement.TREE_PLRU, 4, 7),
        new Example(SILBERSCHATZ, SILBERSCHATZ_STRING, Replacement.FIFO, 3, 15, 10),
        new Example(SILBERSCHATZ, SILBERSCHATZ_STRING, Replacement.LRU, 3, 12, 8),
        new Example(
            SILBERSCHATZ_EXERCISE, EXERCISE_STRING, Replacement.LRU, 1, 20, 18, 15, 10, 8, 7, 7),
        new Example(
            SILBERSCHATZ_EXERCISE, EXERCISE_STRING, Replacement.FIFO, 1, 20, 18, 16, 14, 10, 10, 7),
        new Example(TANENBAUM, TANENBAUM_STRING, Replacement.FIFO, 4, 6),
        new Example(TANENBAUM, TANENBAUM_STRING, Replacement.LRU, 4, 7));
  }

  @ParameterizedTest
  @MethodSource("examples")
  void misses_ofWorkedExamples_areAsPrinted(Example example) {
    int[] blocks = example.blocks().stream().mapToInt(block -> block).toArray();
    for (int i = 0; i < example.misses().size(); i++) {
      int ways = example.fewestWays() + i;
      assertWithMessage("misses with %s ways", ways)
          .that(misses(1, ways, example.replacement(), blocks))
          .isEqualTo(example.misses().get(i));
    }
  }

  /** The order of hits and misses, worked out by hand, no source. */
  @Test
  void tree_onBeladysString_missesInThisOrder() {
    assertThat(sequence(1, 4, Replacement.TREE_PLRU, BELADY_STRING)).isEqualTo("MMMMHHMHHMMH");
  }

  /** Patterson, Hennessy, Computer Organization and Design, 5th ed., ch. 5. */
  @Test
  void misses_ofFourBlockCaches_areAsPrinted() {
    int[] blocks = {0, 8, 0, 6, 8};
    assertThat(misses(4, 1, Replacement.LRU, blocks)).isEqualTo(5);
    assertThat(misses(2, 2, Replacement.LRU, blocks)).isEqualTo(4);
    assertThat(misses(1, 4, Replacement.LRU, blocks)).isEqualTo(3);
  }

  /** Patterson, Hennessy, Computer Organization and Design, 5th ed., ch. 5. */
  @Test
  void sequence_ofEightBlockDirectMapped_isAsPrinted() {
    assertThat(sequence(8, 1, Replacement.LRU, 22, 26, 22, 26, 16, 3, 16, 18, 16))
        .isEqualTo("MMHHMMHMH");
  }

  /** One block more than ways, ten times around: LRU and FIFO lose all (textbooks, from memory). */
  @Test
  void misses_ofCycleLongerThanWays_areAllButForTheTree() {
    for (Replacement always : List.of(Replacement.LRU, Replacement.FIFO)) {
      assertThat(misses(1, 4, always, cycle(5))).isEqualTo(50);
      assertThat(misses(1, 8, always, cycle(9))).isEqualTo(90);
    }
    assertThat(misses(1, 4, Replacement.TREE_PLRU, cycle(5))).isEqualTo(49);
    assertThat(misses(1, 8, Replacement.TREE_PLRU, cycle(9))).isEqualTo(82);
  }

  private static int[] cycle(int blocks) {
    return IntStream.range(0, 10 * blocks).map(i -> i % blocks).toArray();
  }

  /**
   * Mattson, Gecsei, Slutz, Traiger, Evaluation techniques for storage hierarchies, 1970 (from
   * memory): what LRU holds in few ways it holds in more, so misses never rise with ways.
   */
  @Test
  void misses_underLru_neverRiseWithWays() {
    SplittableRandom random = new SplittableRandom(1);
    for (int i = 0; i < 300; i++) {
      int[] blocks = random.ints(200, 0, 6 + i % 20).toArray();
      for (int ways = 1; ways < 16; ways++) {
        String fewer = sequence(1, ways, Replacement.LRU, blocks);
        String more = sequence(1, ways + 1, Replacement.LRU, blocks);
        for (int at = 0; at < blocks.length; at++) {
          assertThat(fewer.charAt(at) == 'H' && more.charAt(at) == 'M').isFalse();
        }
      }
    }
  }

  /** The tree is no stack algorithm: eight ways may have lost what four still hold. */
  @Test
  void tree_ofMoreWays_mayMissWhereFewerHit() {
    SplittableRandom random = new SplittableRandom(2);
    boolean found = false;
    for (int i = 0; i < 20_000 && !found; i++) {
      int[] blocks = random.ints(60, 0, 11).toArray();
      String fewer = sequence(1, 4, Replacement.TREE_PLRU, blocks);
      String more = sequence(1, 8, Replacement.TREE_PLRU, blocks);
      found =
          IntStream.range(0, blocks.length)
              .anyMatch(at -> fewer.charAt(at) == 'H' && more.charAt(at) == 'M');
    }
    assertThat(found).isTrue();
  }

  /** A tree of one node says which of two ways was used last: it is LRU. */
  @Test
  void sequence_ofTwoWays_isTheSameUnderTreeAndLru() {
    SplittableRandom random = new SplittableRandom(3);
    for (int i = 0; i < 300; i++) {
      int[] blocks = random.ints(300, 0, 2 + i % 9).toArray();
      for (int sets : new int[] {1, 2, 4}) {
        assertThat(sequence(sets, 2, Replacement.TREE_PLRU, blocks))
            .isEqualTo(sequence(sets, 2, Replacement.LRU, blocks));
      }
    }
  }

  @Test
  void sequence_ofOneWay_isTheSameUnderAll() {
    int[] blocks = new SplittableRandom(4).ints(2_000, 0, 12).toArray();
    List<String> sequences = new ArrayList<>();
    for (Replacement replacement : Replacement.values()) {
      sequences.add(sequence(4, 1, replacement, blocks));
    }
    assertThat(sequences.stream().distinct().toList()).hasSize(1);
  }

  private static CacheModel model(int sets, int ways, Replacement replacement) {
    return CacheModel.of(
        CacheGeometry.builder(4 * sets * ways).ways(ways).lineBytes(4).build(), replacement);
  }

  private static long misses(int sets, int ways, Replacement replacement, int... blocks) {
    CacheModel model = model(sets, ways, replacement);
    Arrays.stream(blocks).forEach(block -> model.access(4L * block));
    return model.misses();
  }

  private static String sequence(int sets, int ways, Replacement replacement, int... blocks) {
    CacheModel model = model(sets, ways, replacement);
    StringBuilder text = new StringBuilder();
    for (int block : blocks) {
      text.append(model.access(4L * block) ? 'H' : 'M');
    }
    return text.toString();
  }
}

package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Deque;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.LongConsumer;
import java.util.function.LongSupplier;
import java.util.stream.LongStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Bounds of replacement, found by trying every state of a full set.
 *
 * <p>Source: Reineke, Grund, Berg, Wilhelm, "Timing predictability of cache replacement policies",
 * Real-Time Systems 37 (2007) 99-122; values from memory. {@code evict}: after so many accesses to
 * different lines, none of the lines before that was not accessed is left. {@code mls}: so many
 * accesses to different lines can drop the line used just before them, and no fewer.
 */
class ReplacementBoundsTest {

  /** A bound by its formula. */
  private record Bound(Replacement replacement, int ways, int evict, int mls) {}

  static Stream<Bound> bounds() {
    return Stream.of(1, 2, 4, 8)
        .flatMap(
            k -> {
              int log = Integer.numberOfTrailingZeros(k);
              return Stream.of(
                      new Bound(Replacement.LRU, k, k, k),
                      new Bound(Replacement.FIFO, k, 2 * k - 1, 1),
                      new Bound(Replacement.TREE_PLRU, k, k * log / 2 + 1, log + 1))
                  // All 40320 orders of 8 ways, each with all sets of lines, would take minutes.
                  .filter(bound -> bound.replacement() != Replacement.LRU || k < 8);
            });
  }

  /** One set, whose replacement state can be read and set. */
  private static final class Subject {

    private final ReplacementState state;
    private final LongSupplier read;
    private final LongConsumer write;
    private final int ways;

    Subject(Replacement replacement, int ways) {
      this.ways = ways;
      state = ReplacementState.of(replacement, 1, ways);
      if (state instanceof ReplacementState.Lru lru) {
        read = () -> lru.order[0];
        write = value -> lru.order[0] = value;
      } else if (state instanceof ReplacementState.Tree tree) {
        read = () -> tree.pointers[0];
        write = value -> tree.pointers[0] = (int) value;
      } else {
        ReplacementState.Fifo fifo = (ReplacementState.Fifo) state;
        read = () -> fifo.next[0];
        write = value -> fifo.next[0] = (byte) value;
      }
    }

    /** Returns every state of a full set: those reached from any by hits and fills. */
    LongStream states() {
      Set<Long> seen = new HashSet<>();
      Deque<Long> open = new ArrayDeque<>(List.of(read.getAsLong()));
      while (!open.isEmpty()) {
        long from = open.pop();
        if (seen.add(from)) {
          for (int way = 0; way < ways; way++) {
            open.push(hit(from, way));
            write.accept(from);
            state.filled(0, way);
            open.push(read.getAsLong());
          }
        }
      }
      return seen.stream().mapToLong(s -> s).sorted();
    }

    long hit(long from, int way) {
      write.accept(from);
      state.hit(0, way);
      return read.getAsLong();
    }

    int victim(long from) {
      write.accept(from);
      return state.victim(0);
    }

    long miss(long from) {
      write.accept(from);
      state.filled(0, state.victim(0));
      return read.getAsLong();
    }
  }

  /** A replacement state, and the ways whose lines are there from before. */
  private record Node(long state, int old) {}

  @ParameterizedTest
  @MethodSource("bounds")
  void evict_fromEveryState_isThePublishedBound(Bound bound) {
    Subject subject = new Subject(bound.replacement(), bound.ways());
    Map<Node, Integer> known = new HashMap<>();
    int longest =
        subject
            .states()
            .mapToInt(s -> longest(subject, new Node(s, (1 << bound.ways()) - 1), known))
            .max()
            .orElseThrow();
    assertThat(longest).isEqualTo(bound.evict());
  }

  /** Returns the most accesses to different lines until no old line is left. */
  private static int longest(Subject subject, Node node, Map<Node, Integer> known) {
    if (node.old() == 0) {
      return 0;
    }
    Integer before = known.get(node);
    if (before != null) {
      assertWithMessage("old lines may stay for ever").that(before).isAtLeast(0);
      return before;
    }
    known.put(node, -1);
    int most = 1 + longest(subject, afterMiss(subject, node), known);
    for (int way = 0; way < subject.ways; way++) {
      if ((node.old() >> way & 1) == 1) {
        Node next = new Node(subject.hit(node.state(), way), node.old() & ~(1 << way));
        most = Math.max(most, 1 + longest(subject, next, known));
      }
    }
    known.put(node, most);
    return most;
  }

  private static Node afterMiss(Subject subject, Node node) {
    return new Node(subject.miss(node.state()), node.old() & ~(1 << subject.victim(node.state())));
  }

  @ParameterizedTest
  @MethodSource("bounds")
  void mls_fromEveryState_isThePublishedBound(Bound bound) {
    Subject subject = new Subject(bound.replacement(), bound.ways());
    int shortest = Integer.MAX_VALUE;
    for (long start : subject.states().toArray()) {
      for (int used = 0; used < bound.ways(); used++) {
        shortest = Math.min(shortest, shortest(subject, subject.hit(start, used), used));
      }
    }
    assertThat(shortest).isEqualTo(bound.mls());
  }

  /** Returns the fewest accesses to different lines, none to the way's, that drop its line. */
  private static int shortest(Subject subject, long start, int used) {
    List<Node> nodes = List.of(new Node(start, ((1 << subject.ways) - 1) & ~(1 << used)));
    for (int accesses = 1; accesses <= subject.ways; accesses++) {
      Set<Node> next = new HashSet<>();
      for (Node node : nodes) {
        if (subject.victim(node.state()) == used) {
          return accesses;
        }
        next.add(afterMiss(subject, node));
        for (int way = 0; way < subject.ways; way++) {
          if ((node.old() >> way & 1) == 1) {
            next.add(new Node(subject.hit(node.state(), way), node.old() & ~(1 << way)));
          }
        }
      }
      nodes = new ArrayList<>(next);
    }
    throw new AssertionError("the line is dropped by as many accesses as ways at the latest");
  }

  @Test
  void states_ofFullSets_areAsManyAsTheirBitsSay() {
    assertThat(new Subject(Replacement.LRU, 4).states().count()).isEqualTo(24);
    assertThat(new Subject(Replacement.FIFO, 8).states().count()).isEqualTo(8);
    assertThat(new Subject(Replacement.TREE_PLRU, 8).states().count()).isEqualTo(1 << 7);
  }

  /** The polynomial is primitive, so the register goes through all values but 0. */
  @Test
  void shiftRegister_fromOne_hasTheLongestPeriod() {
    ReplacementState.Lfsr lfsr = new ReplacementState.Lfsr(4);
    BitSet seen = new BitSet();
    int[] byWay = new int[4];
    for (int i = 0; i < 65535; i++) {
      seen.set(lfsr.register);
      byWay[lfsr.victim(0)]++;
    }
    assertThat(seen.cardinality()).isEqualTo(65535);
    assertThat(seen.get(0)).isFalse();
    assertThat(lfsr.register).isEqualTo(1);
    assertThat(byWay).isEqualTo(new int[] {16383, 16384, 16384, 16384});
  }

  /** Ways that do not exist fall on lower ones: with five ways, 5, 6 and 7 on 1, 2 and 3. */
  @Test
  void shiftRegister_fiveWays_prefersLowerWays() {
    ReplacementState.Lfsr lfsr = new ReplacementState.Lfsr(5);
    int[] byWay = new int[5];
    for (int i = 0; i < 65535; i++) {
      byWay[lfsr.victim(0)]++;
    }
    assertThat(byWay).isEqualTo(new int[] {8191, 16384, 16384, 16384, 8192});
  }
}

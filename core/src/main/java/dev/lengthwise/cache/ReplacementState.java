package dev.lengthwise.cache;

import java.util.Arrays;

/** The replacement state of all sets, for one of the choices of {@link Replacement}. */
abstract class ReplacementState {

  /** Notes a hit. */
  abstract void hit(int set, int way);

  /** Notes that a line has come into a way. */
  abstract void filled(int set, int way);

  /** Returns the way of a full set whose line leaves; called once for each such fill. */
  abstract int victim(int set);

  static ReplacementState of(Replacement replacement, int sets, int ways) {
    return switch (replacement) {
      case LRU -> new Lru(sets, ways);
      case TREE_PLRU -> new Tree(sets, ways);
      case FIFO -> new Fifo(sets, ways);
      case RANDOM -> new Lfsr(ways);
    };
  }

  /** Ways in the order of their last use, latest lowest, four bits each: one word for a set. */
  static final class Lru extends ReplacementState {

    private static final long ONES = 0x1111_1111_1111_1111L;
    private static final long UPPER = 0x8888_8888_8888_8888L;

    final long[] order;
    private final int last;

    Lru(int sets, int ways) {
      order = new long[sets];
      Arrays.fill(order, 0xfedc_ba98_7654_3210L);
      last = 4 * (ways - 1);
    }

    @Override
    void hit(int set, int way) {
      long before = order[set];
      // The lowest digit that equals the way is found exactly: borrows only go upwards from it.
      long differ = before ^ (way * ONES);
      int place = Long.numberOfTrailingZeros((differ - ONES) & ~differ & UPPER) & ~3;
      long later = before & ((1L << place) - 1);
      long earlier = before & -(1L << place) & ~(15L << place);
      order[set] = earlier | (later << 4) | way;
    }

    @Override
    void filled(int set, int way) {
      hit(set, way);
    }

    @Override
    int victim(int set) {
      return (int) (order[set] >>> last) & 15;
    }
  }

  /** A bit for each node, numbered from 1 at the root, 2n and 2n + 1 below n; 1 points right. */
  static final class Tree extends ReplacementState {

    final int[] pointers;
    private final int ways;
    private final int[] path;
    private final int[] away;

    Tree(int sets, int ways) {
      this.pointers = new int[sets];
      this.ways = ways;
      this.path = new int[ways];
      this.away = new int[ways];
      for (int way = 0; way < ways; way++) {
        for (int node = way + ways; node > 1; node >>= 1) {
          path[way] |= 1 << (node >> 1);
          away[way] |= ((node & 1) ^ 1) << (node >> 1);
        }
      }
    }

    @Override
    void hit(int set, int way) {
      pointers[set] = (pointers[set] & ~path[way]) | away[way];
    }

    @Override
    void filled(int set, int way) {
      hit(set, way);
    }

    @Override
    int victim(int set) {
      int bits = pointers[set];
      int node = 1;
      while (node < ways) {
        node = 2 * node + ((bits >> node) & 1);
      }
      return node - ways;
    }
  }

  /** A pointer for each set. */
  static final class Fifo extends ReplacementState {

    final byte[] next;
    private final int ways;

    Fifo(int sets, int ways) {
      this.next = new byte[sets];
      this.ways = ways;
    }

    @Override
    void hit(int set, int way) {}

    @Override
    void filled(int set, int way) {
      next[set] = (byte) (way + 1 == ways ? 0 : way + 1);
    }

    @Override
    int victim(int set) {
      return next[set];
    }
  }

  /** One shift register. */
  static final class Lfsr extends ReplacementState {

    private static final int[] TAPS = {15, 14, 12, 3};

    int register = 1;
    private final int ways;
    private final int wayBits;

    Lfsr(int ways) {
      this.ways = ways;
      this.wayBits = Replacement.wayBits(ways);
    }

    @Override
    void hit(int set, int way) {}

    @Override
    void filled(int set, int way) {}

    @Override
    int victim(int set) {
      int way = 0;
      for (int bit = 0; bit < wayBits; bit++) {
        way |= ((register >> (4 * bit)) & 1) << bit;
      }
      int in = 0;
      for (int tap : TAPS) {
        in ^= register >> tap;
      }
      register = ((register << 1) | (in & 1)) & 0xffff;
      return way < ways ? way : way & ~(1 << (wayBits - 1));
    }
  }
}

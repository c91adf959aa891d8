package dev.lengthwise.cache;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** A slow, obvious cache: a list of lines for each set, in the order in which they would leave. */
final class ReferenceCache {

  private final CacheGeometry geometry;
  private final Replacement replacement;
  private final Map<Long, Lines> sets = new HashMap<>();
  private final List<Boolean> shiftRegister = new ArrayList<>();

  ReferenceCache(CacheGeometry geometry, Replacement replacement) {
    this.geometry = geometry;
    this.replacement = replacement;
    for (int bit = 0; bit < 16; bit++) {
      shiftRegister.add(bit == 0);
    }
  }

  long evictions(int set) {
    Lines lines = sets.get((long) set);
    return lines == null ? 0 : lines.evictions;
  }

  boolean access(long address) {
    long line = address / geometry.lineBytes();
    return sets.computeIfAbsent(line % geometry.sets(), set -> new Lines()).access(line);
  }

  void flush() {
    sets.values().forEach(lines -> lines.ways.replaceAll(line -> null));
  }

  void flush(long address) {
    long line = address / geometry.lineBytes();
    sets.computeIfAbsent(line % geometry.sets(), set -> new Lines())
        .ways
        .replaceAll(way -> way != null && way == line ? null : way);
  }

  private int random() {
    int way = 0;
    for (int bit = 0; 1 << bit < geometry.ways(); bit++) {
      way += shiftRegister.get(4 * bit) ? 1 << bit : 0;
    }
    boolean next =
        shiftRegister.get(15)
            ^ shiftRegister.get(14)
            ^ shiftRegister.get(12)
            ^ shiftRegister.get(3);
    shiftRegister.remove(15);
    shiftRegister.add(0, next);
    return way < geometry.ways() ? way : way - Integer.highestOneBit(way);
  }

  private final class Lines {

    private final List<Long> ways = new ArrayList<>();
    private final List<Integer> lastUsed = new ArrayList<>();
    private long evictions;
    private int lastFilled = geometry.ways() - 1;
    private final boolean[][] halves = new boolean[5][geometry.ways()];

    Lines() {
      for (int way = 0; way < geometry.ways(); way++) {
        ways.add(null);
        lastUsed.add(way);
      }
    }

    boolean access(long line) {
      int way = ways.indexOf(line);
      boolean hit = way >= 0;
      if (!hit) {
        way = ways.indexOf(null);
        if (way < 0) {
          way = victim();
          evictions++;
        }
        ways.set(way, line);
        lastFilled = way;
      }
      lastUsed.remove((Integer) way);
      lastUsed.add(way);
      use(0, 0, geometry.ways(), way);
      return hit;
    }

    private int victim() {
      return switch (replacement) {
        case LRU -> lastUsed.get(0);
        case TREE_PLRU -> unused(0, 0, geometry.ways());
        case FIFO -> (lastFilled + 1) % geometry.ways();
        case RANDOM -> random();
      };
    }

    /** Notes in each range of ways with the way inside whether its upper half was used last. */
    private void use(int depth, int from, int to, int way) {
      if (to - from > 1) {
        int middle = (from + to) / 2;
        halves[depth][from] = way >= middle;
        use(depth + 1, way < middle ? from : middle, way < middle ? middle : to, way);
      }
    }

    private int unused(int depth, int from, int to) {
      if (to - from == 1) {
        return from;
      }
      int middle = (from + to) / 2;
      return halves[depth][from] ? unused(depth + 1, from, middle) : unused(depth + 1, middle, to);
    }
  }
}

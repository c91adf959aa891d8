package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.words.PointWords;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/**
 * The neighbourhood of a LUT: the LUTs above it for a step or two, and what all of those read,
 * opened downwards as long as the signals at the bottom are few enough to see all their points.
 *
 * <p>Points at which what leaves the window at its top does not depend on the LUT do not matter;
 * points that signals in it never have together are not met. Both are true of the whole network
 * too, so a change that is right in the window is right.
 */
final class CareWindow {

  /** The leaves of a window in a small network; in a large one time counts. */
  private static final int LEAVES_OF_SMALL = 14;

  private static final int LEAVES_OF_LARGE = 12;

  private static final int LARGE = 500;

  /** A LUT with more readers is not looked beyond. */
  private static final int MOST_READERS = 6;

  private static final int MOST_ABOVE = 12;

  private final LinkedLuts luts;
  private final int mostLeaves;
  private final int words;
  private final LutSimulator simulator;
  private final int slot;
  private final List<Integer> above = new ArrayList<>();
  private final List<Integer> leaves = new ArrayList<>();

  /** The inner LUTs in order: each after those it reads. */
  private List<Integer> inside = List.of();

  private final Map<Integer, long[]> values = new HashMap<>();
  private final long[] care;

  private CareWindow(LinkedLuts luts, int slot) {
    this.luts = luts;
    this.slot = slot;
    this.words = words(luts.fanIns.length);
    this.mostLeaves = 6 + Integer.numberOfTrailingZeros(words);
    this.simulator = new LutSimulator(words);
    this.care = new long[words];
  }

  /** Returns the words of a signal's values in the windows of a network of some LUTs. */
  static int words(int luts) {
    return 1 << (luts > LARGE ? LEAVES_OF_LARGE : LEAVES_OF_SMALL) - 6;
  }

  /** Returns the largest window tried around a LUT that is small enough; null if none is. */
  static CareWindow of(LinkedLuts luts, int slot) {
    for (int steps = 2; steps >= 0; steps--) {
      CareWindow window = new CareWindow(luts, slot);
      if (window.rise(steps) && window.open()) {
        window.simulate();
        return window;
      }
    }
    return null;
  }

  /** Returns the points at which the value matters. */
  long[] care() {
    return care;
  }

  /** Returns the values of a signal in the window. */
  long[] value(int signal) {
    return values.get(signal);
  }

  /** Returns the signals in the window that come before a level, the earliest first. */
  List<Integer> before(int level) {
    TreeMap<Long, Integer> sorted = new TreeMap<>();
    for (int signal : values.keySet()) {
      if (luts.levels[signal] < level) {
        sorted.put((long) luts.levels[signal] << 32 | signal, signal);
      }
    }
    return List.copyOf(sorted.values());
  }

  private boolean rise(int steps) {
    above.add(slot);
    int from = 0;
    for (int step = 0; step < steps; step++) {
      int to = above.size();
      for (; from < to; from++) {
        List<Integer> readers = luts.readers.get(luts.inputs + above.get(from));
        if (readers.size() <= MOST_READERS) {
          readers.stream().filter(reader -> !above.contains(reader)).forEach(above::add);
        }
      }
    }
    return above.size() <= MOST_ABOVE;
  }

  private boolean open() {
    for (int lut : above) {
      for (int signal : luts.fanIns[lut]) {
        if (!leaves.contains(signal) && !isAbove(signal)) {
          leaves.add(signal);
        }
      }
    }
    if (leaves.size() > mostLeaves) {
      return false;
    }
    List<Integer> opened = new ArrayList<>();
    for (int next = cheapest(); next >= 0; next = cheapest()) {
      int signal = leaves.remove(next);
      opened.add(signal - luts.inputs);
      for (int below : luts.fanInsOf(signal)) {
        if (!leaves.contains(below)) {
          leaves.add(below);
        }
      }
    }
    opened.addAll(above);
    inside = ordered(opened);
    return true;
  }

  private boolean isAbove(int signal) {
    return signal >= luts.inputs && above.contains(signal - luts.inputs);
  }

  /** Returns the place of the leaf that adds the fewest when opened, the latest of equals. */
  private int cheapest() {
    int best = -1;
    int least = Integer.MAX_VALUE;
    for (int i = 0; i < leaves.size(); i++) {
      int signal = leaves.get(i);
      if (luts.isLut(signal)) {
        int added = -1;
        boolean opens = true;
        for (int below : luts.fanInsOf(signal)) {
          added += leaves.contains(below) ? 0 : 1;
          opens &= !isAbove(below);
        }
        boolean later = added == least && luts.levels[signal] > luts.levels[leaves.get(best)];
        if (opens && leaves.size() + added <= mostLeaves && (added < least || later)) {
          least = added;
          best = i;
        }
      }
    }
    return best;
  }

  private List<Integer> ordered(List<Integer> some) {
    List<Integer> result = new ArrayList<>();
    for (int lut : some) {
      visit(lut, some, result);
    }
    return result;
  }

  private void visit(int lut, List<Integer> some, List<Integer> result) {
    if (!result.contains(lut)) {
      for (int signal : luts.fanIns[lut]) {
        if (signal >= luts.inputs
            && !leaves.contains(signal)
            && some.contains(signal - luts.inputs)) {
          visit(signal - luts.inputs, some, result);
        }
      }
      result.add(lut);
    }
  }

  private void simulate() {
    for (int i = 0; i < leaves.size(); i++) {
      long[] value = new long[words];
      for (int w = 0; w < words; w++) {
        value[w] = PointWords.variable(i, w);
      }
      values.put(leaves.get(i), value);
    }
    for (int lut : inside) {
      values.put(luts.inputs + lut, evaluate(lut, values));
    }
    Map<Integer, long[]> changed = new HashMap<>(values);
    long[] opposite = values.get(luts.inputs + slot).clone();
    for (int w = 0; w < words; w++) {
      opposite[w] = ~opposite[w];
    }
    changed.put(luts.inputs + slot, opposite);
    for (int lut : inside) {
      if (lut != slot && above.contains(lut)) {
        changed.put(luts.inputs + lut, evaluate(lut, changed));
      }
    }
    for (int lut : above) {
      int signal = luts.inputs + lut;
      if (luts.shown[signal] > 0 || !above.containsAll(luts.readers.get(signal))) {
        long[] was = values.get(signal);
        long[] is = changed.get(signal);
        for (int w = 0; w < words; w++) {
          care[w] |= was[w] ^ is[w];
        }
      }
    }
    // What depends on the LUT must not be read by it.
    above.forEach(lut -> values.remove(luts.inputs + lut));
    values.put(luts.inputs + slot, Arrays.stream(opposite).map(word -> ~word).toArray());
  }

  private long[] evaluate(int lut, Map<Integer, long[]> from) {
    int[] own = luts.fanIns[lut];
    long[][] operands = new long[own.length][];
    int[] places = new int[own.length];
    for (int i = 0; i < own.length; i++) {
      operands[i] = from.get(own[i]);
      places[i] = i;
    }
    long[] result = new long[words];
    simulator.evaluate(luts.tables[lut], places, operands, result);
    return result;
  }
}

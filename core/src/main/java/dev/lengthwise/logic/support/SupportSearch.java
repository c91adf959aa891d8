package dev.lengthwise.logic.support;

import dev.lengthwise.logic.words.OutputWords;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.List;

/**
 * Searches the largest sets of inputs that can be dropped together.
 *
 * <p>Dropping an input folds the table onto half its points, ones onto ones and zeros onto zeros;
 * it is possible while no point becomes both. What cannot be dropped now cannot be dropped later,
 * so the candidates only shrink on the way down and bound the search.
 */
final class SupportSearch {

  private final OutputWords spec;
  private final long mostWork;
  private final boolean all;
  private final List<Integer> best = new ArrayList<>();
  private int mostDropped = -1;
  private long work;

  /** One folded table: the inputs left, and ones and zeros of its points. */
  private static final class Folded {

    private final int kept;
    private final long[] ones;
    private final long[] zeros;

    Folded(int kept, long[] ones, long[] zeros) {
      this.kept = kept;
      this.ones = ones;
      this.zeros = zeros;
    }
  }

  SupportSearch(OutputWords spec, long mostWork, boolean all) {
    this.spec = spec;
    this.mostWork = mostWork;
    this.all = all;
  }

  /** Returns the smallest sufficient sets, or one of them; ascending. */
  List<Integer> smallest() {
    int points = spec.points();
    long[] ones = new long[points];
    long[] zeros = new long[points];
    for (int p = 0; p < points; p++) {
      ones[p] = spec.needed(p);
      zeros[p] = ~spec.allowed(p);
    }
    if (spec.outputs() < Long.SIZE) {
      long every = (1L << spec.outputs()) - 1;
      for (int p = 0; p < points; p++) {
        zeros[p] &= every;
      }
    }
    visit(new Folded(points - 1, ones, zeros), points - 1, 0);
    best.sort(null);
    return best;
  }

  /** Tells whether the search came to its end. */
  boolean complete() {
    return work <= mostWork;
  }

  private void visit(Folded table, int untried, int dropped) {
    Work.check();
    if (dropped > mostDropped) {
      mostDropped = dropped;
      best.clear();
    }
    if (dropped == mostDropped && (all || best.isEmpty())) {
      best.add(table.kept);
    }
    int candidates = 0;
    for (int left = untried; left != 0; left &= left - 1) {
      int bit = Integer.lowestOneBit(left);
      if (complete() && canDrop(table, bit)) {
        candidates |= bit;
      }
    }
    for (int left = candidates; left != 0; left &= left - 1) {
      int reach = dropped + Integer.bitCount(left);
      if (!complete() || reach < mostDropped || (!all && reach == mostDropped)) {
        return;
      }
      int bit = Integer.lowestOneBit(left);
      visit(drop(table, bit), left & ~bit, dropped + 1);
    }
  }

  private boolean canDrop(Folded table, int bit) {
    int step = 1 << Integer.bitCount(table.kept & (bit - 1));
    work += table.ones.length;
    for (int p = 0; p < table.ones.length; p++) {
      int q = p ^ step;
      if (p < q && ((table.ones[p] & table.zeros[q]) | (table.ones[q] & table.zeros[p])) != 0) {
        return false;
      }
    }
    return true;
  }

  private Folded drop(Folded table, int bit) {
    int step = 1 << Integer.bitCount(table.kept & (bit - 1));
    int half = table.ones.length / 2;
    work += half;
    long[] ones = new long[half];
    long[] zeros = new long[half];
    for (int p = 0; p < half; p++) {
      int low = (p & (step - 1)) | (p & -step) << 1;
      ones[p] = table.ones[low] | table.ones[low | step];
      zeros[p] = table.zeros[low] | table.zeros[low | step];
    }
    return new Folded(table.kept & ~bit, ones, zeros);
  }
}

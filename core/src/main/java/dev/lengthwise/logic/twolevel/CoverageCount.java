package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.words.OutputWords;

/** Counts, for each point and output, how many terms of a changing cover hold it. */
final class CoverageCount {

  private final OutputWords spec;
  private final int outputs;
  private final short[] holders;
  private final long[] once;
  private final long[] held;

  CoverageCount(OutputWords spec) {
    this.spec = spec;
    this.outputs = spec.outputs();
    this.holders = new short[Math.multiplyExact(spec.points(), outputs)];
    this.once = new long[spec.points()];
    this.held = new long[spec.points()];
  }

  void add(Cube cube) {
    change(cube, 1);
  }

  void remove(Cube cube) {
    change(cube, -1);
  }

  private void change(Cube cube, int by) {
    for (int p = cube.value(); p >= 0; p = cube.nextPoint(p)) {
      for (long o = cube.outputs() & spec.needed(p); o != 0; o &= o - 1) {
        long bit = Long.lowestOneBit(o);
        int at = p * outputs + Long.numberOfTrailingZeros(o);
        int now = holders[at] + by;
        holders[at] = (short) now;
        held[p] = now > 0 ? held[p] | bit : held[p] & ~bit;
        once[p] = now == 1 ? once[p] | bit : once[p] & ~bit;
      }
    }
  }

  /** Returns the outputs that need the point and are held by no term. */
  long open(int point) {
    return spec.needed(point) & ~held[point];
  }

  /** Returns the outputs of which the term, being in the cover, holds some point alone. */
  long alone(Cube cube) {
    long alone = 0;
    for (int p = cube.value(); p >= 0 && alone != cube.outputs(); p = cube.nextPoint(p)) {
      alone |= once[p] & cube.outputs();
    }
    return alone;
  }

  /** Returns the smallest term that holds what this term of the cover holds alone, or null. */
  Cube reduced(Cube cube) {
    long outs = 0;
    int ones = -1;
    int zeros = -1;
    for (int p = cube.value(); p >= 0; p = cube.nextPoint(p)) {
      long mine = once[p] & cube.outputs();
      if (mine != 0) {
        outs |= mine;
        ones &= p;
        zeros &= ~p;
      }
    }
    int all = spec.points() - 1;
    int fixed = (ones | zeros) & all;
    return outs == 0 ? null : new Cube(cube.inputs(), fixed, ones & fixed, outs);
  }

  /** Values a term that may enter: what is open counts most, then what one other term holds. */
  long gain(Cube cube) {
    long gain = 0;
    for (int p = cube.value(); p >= 0; p = cube.nextPoint(p)) {
      long mine = spec.needed(p) & cube.outputs();
      gain += 16L * Long.bitCount(mine & ~held[p]) + Long.bitCount(mine & once[p]);
    }
    return gain;
  }
}

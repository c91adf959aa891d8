package dev.lengthwise.logic.rewrite;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.Arrays;

/**
 * Evaluates a LUT at many points, 64 to a word.
 *
 * <p>The table is expanded by its last fan-in, then by the one before. Each step is one loop over
 * all words, which compiled code runs with vector instructions; cofactors that are constant, equal
 * or inverse take one operation.
 */
final class LutSimulator {

  private final int words;
  private final long[][] scratch;
  private final long[][] operands = new long[LutNetwork.MOST_FAN_INS][];

  /**
   * Prepares evaluations.
   *
   * @param words the words that each fan-in has
   */
  LutSimulator(int words) {
    this.words = words;
    this.scratch = new long[LutNetwork.MOST_FAN_INS][words];
  }

  /**
   * Evaluates a table.
   *
   * @param table the packed table
   * @param fanIns indices into {@code signals}, at most {@value LutNetwork#MOST_FAN_INS}
   * @param signals the words of each signal
   * @param out the words to write, of no fan-in
   */
  void evaluate(long[] table, int[] fanIns, long[][] signals, long[] out) {
    for (int i = 0; i < fanIns.length; i++) {
      operands[i] = signals[fanIns[i]];
    }
    expand(table, 0, fanIns.length, out);
  }

  /** Evaluates the part of a table that starts at a word and depends on the first fan-ins. */
  private void expand(long[] table, int from, int inputs, long[] out) {
    if (inputs <= 6) {
      expand(table[from], inputs, out);
      return;
    }
    long[] high = scratch[inputs - 1];
    expand(table, from, inputs - 1, out);
    expand(table, from + (1 << (inputs - 7)), inputs - 1, high);
    select(operands[inputs - 1], high, out);
  }

  private void expand(long table, int inputs, long[] out) {
    long all = all(inputs);
    long ones = table & all;
    if (ones == 0 || ones == all) {
      Arrays.fill(out, 0, words, ones == 0 ? 0L : -1L);
      return;
    }
    int last = inputs - 1;
    long[] signal = operands[last];
    long half = all(last);
    long low = ones & half;
    long high = ones >>> (1 << last);
    if (low == high) {
      expand(low, last, out);
    } else if (low == 0) {
      expand(high, last, out);
      and(signal, out);
    } else if (high == 0) {
      expand(low, last, out);
      andNot(signal, out);
    } else if (high == half) {
      expand(low, last, out);
      or(signal, out);
    } else if (low == half) {
      expand(high, last, out);
      orNot(signal, out);
    } else if (high == (~low & half)) {
      expand(low, last, out);
      exclusiveOr(signal, out);
    } else {
      expand(low, last, out);
      expand(high, last, scratch[last]);
      select(signal, scratch[last], out);
    }
  }

  private static long all(int inputs) {
    return inputs == 6 ? -1L : (1L << (1 << inputs)) - 1;
  }

  private void and(long[] signal, long[] out) {
    for (int w = 0; w < words; w++) {
      out[w] &= signal[w];
    }
  }

  private void andNot(long[] signal, long[] out) {
    for (int w = 0; w < words; w++) {
      out[w] &= ~signal[w];
    }
  }

  private void or(long[] signal, long[] out) {
    for (int w = 0; w < words; w++) {
      out[w] |= signal[w];
    }
  }

  private void orNot(long[] signal, long[] out) {
    for (int w = 0; w < words; w++) {
      out[w] |= ~signal[w];
    }
  }

  private void exclusiveOr(long[] signal, long[] out) {
    for (int w = 0; w < words; w++) {
      out[w] ^= signal[w];
    }
  }

  private void select(long[] signal, long[] high, long[] out) {
    for (int w = 0; w < words; w++) {
      out[w] ^= signal[w] & (out[w] ^ high[w]);
    }
  }
}

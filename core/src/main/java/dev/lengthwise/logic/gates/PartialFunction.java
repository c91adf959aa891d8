package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.words.PointWords;
import java.util.Arrays;

/**
 * A function of some inputs with points that do not matter, packed in words; fewer than six inputs
 * fill the low bits of one.
 */
final class PartialFunction {
  private final int inputs;
  private final long[] on;
  private final long[] care;

  PartialFunction(int inputs, long[] on, long[] care) {
    this.inputs = inputs;
    this.on = on;
    this.care = care;
  }

  /** What is kept of a word's halves as they are pushed together. */
  private static final long[] LOW = {
    0x5555555555555555L,
    0x3333333333333333L,
    0x0f0f0f0f0f0f0f0fL,
    0x00ff00ff00ff00ffL,
    0x0000ffff0000ffffL,
    0x00000000ffffffffL
  };

  int inputs() {
    return inputs;
  }

  boolean isZero() {
    return isEmpty(on);
  }

  boolean isOne() {
    return Arrays.equals(on, care);
  }

  private static boolean isEmpty(long[] words) {
    for (long word : words) {
      if (word != 0) {
        return false;
      }
    }
    return true;
  }

  /** Tells whether the first point that matters is 1. */
  boolean startsWithOne() {
    for (int w = 0; w < on.length; w++) {
      if (care[w] != 0) {
        return (on[w] & Long.lowestOneBit(care[w])) != 0;
      }
    }
    return false;
  }

  PartialFunction complement() {
    long[] off = new long[on.length];
    for (int w = 0; w < off.length; w++) {
      off[w] = care[w] & ~on[w];
    }
    return new PartialFunction(inputs, off, care);
  }

  /** Tells whether two functions agree wherever both matter. */
  boolean agrees(PartialFunction other) {
    for (int w = 0; w < on.length; w++) {
      if (((on[w] ^ other.on[w]) & care[w] & other.care[w]) != 0) {
        return false;
      }
    }
    return true;
  }

  /** Returns the function that is both of two that agree. */
  PartialFunction joined(PartialFunction other) {
    long[] ones = new long[on.length];
    long[] cares = new long[on.length];
    for (int w = 0; w < ones.length; w++) {
      ones[w] = on[w] | other.on[w];
      cares[w] = care[w] | other.care[w];
    }
    return new PartialFunction(inputs, ones, cares);
  }

  boolean isComplete() {
    for (long word : care) {
      if (word != care[0]) {
        return false;
      }
    }
    return inputs >= 6 ? care[0] == -1L : care[0] == (1L << (1 << inputs)) - 1;
  }

  boolean dependsOn(int input) {
    if (input >= 6) {
      int step = 1 << (input - 6);
      for (int w = 0; w < on.length; w++) {
        if ((w & step) == 0 && ((on[w] ^ on[w + step]) & care[w] & care[w + step]) != 0) {
          return true;
        }
      }
      return false;
    }
    long variable = PointWords.variable(input, 0);
    int shift = 1 << input;
    for (int w = 0; w < on.length; w++) {
      long differs = (on[w] ^ on[w] >>> shift) & care[w] & care[w] >>> shift;
      if ((differs & ~variable) != 0) {
        return true;
      }
    }
    return false;
  }

  /** Returns the function of the other inputs where one is given. */
  PartialFunction cofactor(int input, boolean one) {
    return new PartialFunction(inputs - 1, half(on, input, one), half(care, input, one));
  }

  private static long[] half(long[] words, int input, boolean one) {
    if (input >= 6) {
      long[] result = new long[words.length / 2];
      int step = 1 << (input - 6);
      for (int w = 0; w < result.length; w++) {
        int low = w & step - 1;
        result[w] = words[(w ^ low) << 1 | low | (one ? step : 0)];
      }
      return result;
    }
    long[] result = new long[Math.max(1, words.length / 2)];
    for (int w = 0; w < words.length; w++) {
      long word = one ? words[w] >>> (1 << input) : words[w];
      for (int i = input; i < 6; i++) {
        word &= LOW[i];
        word = i < 5 ? word | word >>> (1 << i) : word;
      }
      result[w >> 1] |= (w & 1) == 0 ? word : word << 32;
    }
    return result;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof PartialFunction that
        && inputs == that.inputs
        && Arrays.equals(on, that.on)
        && Arrays.equals(care, that.care);
  }

  @Override
  public int hashCode() {
    return 31 * Arrays.hashCode(on) + Arrays.hashCode(care);
  }
}

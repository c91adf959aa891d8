package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.words.OutputWords;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.List;

/**
 * Finds primes in the table of all 3^n terms.
 *
 * <p>A term is numbered by ternary digits, a digit an input: 0, 1, or 2 for "no literal". The
 * outputs that a term may feed are the AND of what its two halves may feed; a term is prime when
 * each dropped literal loses an output.
 */
final class TernaryPrimes {

  private final OutputWords spec;
  private final int[] power;
  private final long[] feeds;

  TernaryPrimes(OutputWords spec) {
    this.spec = spec;
    this.power = new int[spec.inputs() + 1];
    power[0] = 1;
    for (int i = 0; i < spec.inputs(); i++) {
      power[i + 1] = 3 * power[i];
    }
    this.feeds = new long[power[spec.inputs()]];
  }

  List<Cube> primes() {
    int inputs = spec.inputs();
    int[] digits = new int[inputs];
    int fixed = (1 << inputs) - 1;
    int value = 0;
    for (int t = 0; t < feeds.length; t++) {
      Work.check();
      int free = ((1 << inputs) - 1) & ~fixed;
      if (free == 0) {
        feeds[t] = spec.allowed(value);
      } else {
        int weight = power[Integer.numberOfTrailingZeros(free)];
        feeds[t] = feeds[t - weight] & feeds[t - 2 * weight];
      }
      for (int i = 0; i < inputs; i++) {
        int bit = 1 << i;
        if (digits[i] == 2) {
          digits[i] = 0;
          fixed |= bit;
          continue;
        }
        digits[i]++;
        if (digits[i] == 1) {
          value |= bit;
        } else {
          value &= ~bit;
          fixed &= ~bit;
        }
        break;
      }
    }
    List<Cube> primes = new ArrayList<>();
    collect(inputs - 1, 0, 0, 0, primes);
    return primes;
  }

  private void collect(int input, int term, int fixed, int value, List<Cube> primes) {
    if (input >= 0) {
      collect(input - 1, term, fixed | 1 << input, value, primes);
      collect(input - 1, term + power[input], fixed | 1 << input, value | 1 << input, primes);
      collect(input - 1, term + 2 * power[input], fixed, value, primes);
      return;
    }
    if (feeds[term] == 0) {
      return;
    }
    for (int i = 0; i < spec.inputs(); i++) {
      if ((fixed >>> i & 1) != 0) {
        int digit = value >>> i & 1;
        if (feeds[term + (2 - digit) * power[i]] == feeds[term]) {
          return;
        }
      }
    }
    primes.add(new Cube(spec.inputs(), fixed, value, feeds[term]));
  }
}

package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.words.PointWords;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * A sum of products of a function in which no product can be left out, by expansion (S. Minato,
 * "Fast generation of irredundant sum-of-products forms from binary decision diagrams", 1992).
 *
 * <p>A product is a set of literals: bit {@code 2 * input} for the input, {@code 2 * input + 1} for
 * its complement.
 */
final class IrredundantSum {

  private final int words;
  private final List<Integer> products = new ArrayList<>();

  private IrredundantSum(int words) {
    this.words = words;
  }

  /**
   * Returns the products of a function.
   *
   * @param table its points, as words; those of fewer than six inputs repeat within the word
   * @param inputs at most 15
   */
  static List<Integer> of(long[] table, int inputs) {
    IrredundantSum sum = new IrredundantSum(table.length);
    sum.cover(table, table, inputs, 0);
    return sum.products;
  }

  /**
   * Adds products that cover some points and none beyond others.
   *
   * @param product the literals that each of them has already
   * @return the points covered
   */
  private long[] cover(long[] least, long[] most, int inputs, int product) {
    if (Arrays.stream(least).allMatch(word -> word == 0)) {
      return new long[words];
    }
    if (Arrays.stream(most).allMatch(word -> word == -1)) {
      products.add(product);
      return most;
    }
    int input = inputs - 1;
    while (!depends(least, input) && !depends(most, input)) {
      input--;
    }
    long[] least0 = cofactor(least, input, false);
    long[] least1 = cofactor(least, input, true);
    long[] most0 = cofactor(most, input, false);
    long[] most1 = cofactor(most, input, true);
    long[] only0 = cover(without(least0, most1), most0, input, product | 2 << 2 * input);
    long[] only1 = cover(without(least1, most0), most1, input, product | 1 << 2 * input);
    long[] rest = new long[words];
    long[] both = new long[words];
    for (int w = 0; w < words; w++) {
      rest[w] = least0[w] & ~only0[w] | least1[w] & ~only1[w];
      both[w] = most0[w] & most1[w];
    }
    long[] any = cover(rest, both, input, product);
    long[] covered = new long[words];
    for (int w = 0; w < words; w++) {
      long one = PointWords.variable(input, w);
      covered[w] = any[w] | only0[w] & ~one | only1[w] & one;
    }
    return covered;
  }

  private static long[] without(long[] table, long[] other) {
    long[] result = new long[table.length];
    Arrays.setAll(result, w -> table[w] & ~other[w]);
    return result;
  }

  private static boolean depends(long[] table, int input) {
    if (input < Forms.MOST_INPUTS) {
      return Arrays.stream(table).anyMatch(word -> Forms.depends(word, input));
    }
    int step = 1 << input - Forms.MOST_INPUTS;
    for (int w = 0; w < table.length; w++) {
      if ((w & step) == 0 && table[w] != table[w + step]) {
        return true;
      }
    }
    return false;
  }

  private static long[] cofactor(long[] table, int input, boolean one) {
    long[] result = new long[table.length];
    if (input < Forms.MOST_INPUTS) {
      Arrays.setAll(result, w -> Forms.cofactor(table[w], input, one));
    } else {
      int step = 1 << input - Forms.MOST_INPUTS;
      Arrays.setAll(result, w -> table[one ? w | step : w & ~step]);
    }
    return result;
  }
}

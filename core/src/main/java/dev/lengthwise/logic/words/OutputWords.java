package dev.lengthwise.logic.words;

import dev.lengthwise.logic.function.TruthTable;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;

/**
 * Several outputs of the same inputs, turned on its side: a word a point, a bit an output.
 *
 * <p>The two-level workers ask "for which outputs may a term hold this point", which this layout
 * answers with one load.
 */
public final class OutputWords {

  private final int inputs;
  private final int outputs;
  private final long[] needed;
  private final long[] allowed;

  private OutputWords(int inputs, int outputs, long[] needed, long[] allowed) {
    this.inputs = inputs;
    this.outputs = outputs;
    this.needed = needed;
    this.allowed = allowed;
  }

  /** Turns the tables; they must be 1 to 64, all of the same number of inputs. */
  public static OutputWords of(List<TruthTable> tables) {
    if (tables.isEmpty() || tables.size() > Long.SIZE) {
      throw new IllegalArgumentException(
          "tables: the number of outputs must be in [1, 64], found " + tables.size());
    }
    int inputs = tables.get(0).inputs();
    long[] needed = new long[1 << inputs];
    long[] allowed = new long[1 << inputs];
    for (int o = 0; o < tables.size(); o++) {
      TruthTable table = tables.get(o);
      if (table.inputs() != inputs) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "tables: all must have the %d inputs of the first, found %d at output %d",
                inputs,
                table.inputs(),
                o));
      }
      for (int p = 0; p < needed.length; p++) {
        if (table.isOn(p)) {
          needed[p] |= 1L << o;
          allowed[p] |= 1L << o;
        } else if (!table.isCare(p)) {
          allowed[p] |= 1L << o;
        }
      }
    }
    return new OutputWords(inputs, tables.size(), needed, allowed);
  }

  public int inputs() {
    return inputs;
  }

  public int outputs() {
    return outputs;
  }

  public int points() {
    return needed.length;
  }

  /** Returns how many ones there are, over all points and outputs. */
  public long neededCount() {
    return Arrays.stream(needed).map(Long::bitCount).sum();
  }

  /** Returns the outputs that must be 1 at the point. */
  public long needed(int point) {
    return needed[point];
  }

  /** Returns the outputs that may be 1 at the point. */
  public long allowed(int point) {
    return allowed[point];
  }

  /** Returns those of {@code within} for which the term (fixed, value) touches no 0. */
  public long allowed(int fixed, int value, long within) {
    long result = within;
    int free = (needed.length - 1) & ~fixed;
    int at = 0;
    do {
      result &= allowed[at | value];
      at = (at - free) & free;
    } while (at != 0 && result != 0);
    return result;
  }
}

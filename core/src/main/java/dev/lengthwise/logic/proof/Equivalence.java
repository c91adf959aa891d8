package dev.lengthwise.logic.proof;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.NetworkWords;
import dev.lengthwise.logic.words.PointWords;
import dev.lengthwise.work.Work;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.OptionalLong;

/** Compares networks with tables, functions and each other. */
public final class Equivalence {

  /** The most inputs of an exhaustive comparison: 2^30 points, 64 at a time. */
  public static final int MOST_EXHAUSTIVE_INPUTS = 30;

  /** A function that gives 64 points at once. */
  @FunctionalInterface
  public interface WordFunction {

    /**
     * Evaluates 64 points.
     *
     * @param inputs one word for each input: bit p is its value at point p
     * @return one word of values for each output, then one word for each output with a 1 where it
     *     matters
     */
    long[] evaluate(long[] inputs);
  }

  private Equivalence() {}

  /**
   * Compares a network with a table at every point.
   *
   * @param network the network
   * @param function what it should be, of as many inputs and outputs in the same order
   * @return the outcome
   * @throws IllegalArgumentException if the inputs or outputs differ in number
   */
  public static Proof check(LutNetwork network, TruthTables function) {
    checkShape(network, function.inputs(), function.outputs().size());
    int outputs = function.outputs().size();
    long[][] on = new long[outputs][];
    long[][] care = new long[outputs][];
    for (int o = 0; o < outputs; o++) {
      on[o] = function.outputs().get(o).onWords();
      care[o] = function.outputs().get(o).careWords();
    }
    int inputs = function.inputs();
    return exhaustive(
        network,
        (word, values) -> {
          long[] result = new long[2 * outputs];
          for (int o = 0; o < outputs; o++) {
            result[o] = on[o][(int) word];
            result[outputs + o] = care[o][(int) word];
          }
          return result;
        },
        inputs);
  }

  /**
   * Compares a network with a function at every point.
   *
   * @param network the network, of at most {@value #MOST_EXHAUSTIVE_INPUTS} inputs
   * @param function what it should be
   * @return the outcome
   * @throws IllegalArgumentException if there are too many inputs
   */
  public static Proof check(LutNetwork network, WordFunction function) {
    int inputs = network.inputNames().size();
    if (inputs > MOST_EXHAUSTIVE_INPUTS) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "equivalence: an exhaustive comparison takes at most %d inputs, found %d",
              MOST_EXHAUSTIVE_INPUTS,
              inputs));
    }
    return exhaustive(network, (word, values) -> function.evaluate(values), inputs);
  }

  /**
   * Compares two networks: at every point up to 24 inputs, by satisfiability beyond.
   *
   * @param one a network
   * @param other another, with inputs and outputs in the same order
   * @param conflicts the most conflicts the solver may spend, at least 1
   * @return the outcome; not proved also if the conflicts did not suffice
   * @throws IllegalArgumentException if the inputs or outputs differ in number
   */
  public static Proof check(LutNetwork one, LutNetwork other, int conflicts) {
    checkShape(one, other.inputNames().size(), other.outputs().size());
    if (one.inputNames().size() <= TruthTable.MOST_INPUTS) {
      int outputs = other.outputs().size();
      NetworkWords luts = new NetworkWords(other);
      return check(
          one,
          inputs -> {
            long[] result = Arrays.copyOf(luts.evaluate(inputs), 2 * outputs);
            Arrays.fill(result, outputs, 2 * outputs, -1L);
            return result;
          });
    }
    return new Miter(one, other).solve(conflicts);
  }

  private static void checkShape(LutNetwork network, int inputs, int outputs) {
    if (network.inputNames().size() != inputs || network.outputs().size() != outputs) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "equivalence: both sides must have as many inputs and outputs,"
                  + " found %d and %d inputs, %d and %d outputs",
              network.inputNames().size(),
              inputs,
              network.outputs().size(),
              outputs));
    }
  }

  /** What is asked at 64 points, by the number of the word and its input words. */
  private interface Asked {
    long[] at(long word, long[] inputs);
  }

  private static Proof exhaustive(LutNetwork network, Asked asked, int inputs) {
    long words = inputs <= 6 ? 1 : 1L << (inputs - 6);
    long mask = inputs < 6 ? (1L << (1 << inputs)) - 1 : -1L;
    List<LutNetwork.Output> outputs = network.outputs();
    NetworkWords luts = new NetworkWords(network);
    for (long word = 0; word < words; word++) {
      Work.check();
      long[] values = PointWords.points(inputs, word);
      long[] got = luts.evaluate(values);
      long[] want = asked.at(word, values);
      for (int o = 0; o < got.length; o++) {
        long wrong = (got[o] ^ want[o]) & want[got.length + o] & mask;
        if (wrong != 0) {
          long point = word * 64 + Long.numberOfTrailingZeros(wrong);
          return Proof.differs(
              "exhaustive", (word + 1) * 64, OptionalLong.of(point), outputs.get(o).name());
        }
      }
    }
    return Proof.exhaustive(1L << inputs);
  }
}

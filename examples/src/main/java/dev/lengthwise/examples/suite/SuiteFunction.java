package dev.lengthwise.examples.suite;

import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * A function of the suite. Immutable.
 *
 * @param name its name in tables
 * @param source where it is published
 * @param tables the function
 * @param formulas texts in Verilog as a designer writes the function, with the input {@code x} and
 *     the output {@code y}, beside the table; equal wherever the table matters
 * @param gates a network of small gates as a textbook has it; equal likewise
 * @param known by the inputs of a LUT, the fewest LUTs that are known to do
 */
public record SuiteFunction(
    String name,
    String source,
    TruthTables tables,
    List<String> formulas,
    Optional<LutNetwork> gates,
    Map<Integer, KnownLuts> known) {

  /** What a network has at least where each output takes a LUT of its own. */
  static final String A_LUT_EACH = "each output takes a LUT of its own so the least";

  /** What was found with a pencil. */
  static final String BY_HAND = "by hand and not proved the least";

  /**
   * The fewest LUTs that are known to do.
   *
   * @param luts how many
   * @param source where that is from, or why it is so
   */
  public record KnownLuts(int luts, String source) {

    /**
     * Checks that the source fits a field of a table.
     *
     * @param luts see KnownLuts
     * @param source see KnownLuts
     */
    public KnownLuts {
      if (source.isEmpty() || source.indexOf(',') >= 0) {
        throw new IllegalArgumentException(
            "known luts: a source without commas is expected, found " + source);
      }
    }
  }

  /**
   * Copies the lists.
   *
   * @param name see SuiteFunction
   * @param source see SuiteFunction
   * @param tables see SuiteFunction
   * @param formulas see SuiteFunction
   * @param gates see SuiteFunction
   * @param known see SuiteFunction
   */
  public SuiteFunction {
    formulas = List.copyOf(formulas);
    known = Map.copyOf(known);
  }

  static SuiteFunction of(String name, String source, TruthTables tables) {
    return new SuiteFunction(name, source, tables, List.of(), Optional.empty(), Map.of());
  }

  /** Adds a text: the lines between the head of its module and the end. */
  SuiteFunction withFormula(String... lines) {
    String text =
        line(
            "module top(input [%d:0] x, output [%d:0] y);\n  %s\nendmodule\n",
            tables.inputs() - 1, tables.outputs().size() - 1, String.join("\n  ", lines));
    List<String> more = new ArrayList<>(formulas);
    more.add(text);
    return new SuiteFunction(name, source, tables, more, gates, known);
  }

  /** Formats text of a module. */
  static String line(String format, Object... arguments) {
    return String.format(Locale.ROOT, format, arguments);
  }

  SuiteFunction withGates(LutNetwork network) {
    return new SuiteFunction(name, source, tables, formulas, Optional.of(network), known);
  }

  SuiteFunction withKnown(int lutInputs, int luts, String why) {
    Map<Integer, KnownLuts> more = new TreeMap<>(known);
    more.put(lutInputs, new KnownLuts(luts, why));
    return new SuiteFunction(name, source, tables, formulas, gates, more);
  }
}

package dev.lengthwise.logic.function;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;

/**
 * A function with named inputs and outputs: one {@link TruthTable} for each output.
 *
 * <p>Immutable; 1 to {@value #MOST_OUTPUTS} outputs, at most {@value #MOST_INPUTS} inputs.
 */
public final class TruthTables {

  /** The most inputs, so that a table of all points stays small: 2^16 points. */
  public static final int MOST_INPUTS = 16;

  /** The most outputs. */
  public static final int MOST_OUTPUTS = 256;

  private final List<String> inputNames;
  private final List<String> outputNames;
  private final List<TruthTable> outputs;

  private TruthTables(List<String> inputNames, List<String> outputNames, List<TruthTable> outputs) {
    this.inputNames = List.copyOf(inputNames);
    this.outputNames = List.copyOf(outputNames);
    this.outputs = List.copyOf(outputs);
  }

  /**
   * Returns the function of the given tables.
   *
   * @param inputNames the names of the inputs, input 0 first
   * @param outputNames the names of the outputs
   * @param outputs the table of each output
   * @return the function
   * @throws IllegalArgumentException if there are too many inputs or outputs or none of the latter,
   *     if names repeat, or if a table has another number of inputs
   */
  public static TruthTables of(
      List<String> inputNames, List<String> outputNames, List<TruthTable> outputs) {
    check("the number of inputs", inputNames.size(), 0, MOST_INPUTS);
    check("the number of outputs", outputs.size(), 1, MOST_OUTPUTS);
    if (outputNames.size() != outputs.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "truth tables: each output needs one name, found %d names and %d outputs",
              outputNames.size(),
              outputs.size()));
    }
    for (List<String> names : List.of(inputNames, outputNames)) {
      if (new HashSet<>(names).size() != names.size()) {
        throw new IllegalArgumentException("truth tables: names must differ, found " + names);
      }
    }
    for (int i = 0; i < outputs.size(); i++) {
      if (outputs.get(i).inputs() != inputNames.size()) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "truth tables: output %s must have %d inputs, found %d",
                outputNames.get(i),
                inputNames.size(),
                outputs.get(i).inputs()));
      }
    }
    return new TruthTables(inputNames, outputNames, outputs);
  }

  /**
   * Returns the function of the given tables, with inputs {@code x0, x1, ...} and outputs {@code
   * y0, y1, ...}.
   *
   * @param outputs the table of each output
   * @return the function
   * @throws IllegalArgumentException as {@link #of(List, List, List)} does
   */
  public static TruthTables of(List<TruthTable> outputs) {
    check("the number of outputs", outputs.size(), 1, MOST_OUTPUTS);
    return of(numbered("x", outputs.get(0).inputs()), numbered("y", outputs.size()), outputs);
  }

  /**
   * Parses the text form: a line {@code inputs N outputs M}, then one line of 2^N digits {@code 0},
   * {@code 1} or {@code -} for each output, position 0 first; input 0 is the least significant bit
   * of a position. Empty lines are skipped.
   *
   * @param text the text
   * @return the function, with inputs {@code x0...} and outputs {@code y0...}
   * @throws IllegalArgumentException if the text is not of that form; names the line
   */
  public static TruthTables parse(String text) {
    List<TruthTable> tables = new ArrayList<>();
    int[] sizes = null;
    String[] lines = text.split("\\R", -1);
    for (int i = 0; i < lines.length; i++) {
      String line = lines[i].trim();
      if (line.isEmpty()) {
        continue;
      }
      if (sizes == null) {
        sizes = parseSizes(line, i + 1);
      } else {
        tables.add(parseOutput(line, i + 1, sizes, tables.size()));
      }
    }
    if (sizes == null || tables.size() != sizes[1]) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "truth tables: must have a first line and %s output lines, found %d output lines",
              sizes == null ? "its" : Integer.toString(sizes[1]),
              tables.size()));
    }
    return of(tables);
  }

  private static int[] parseSizes(String line, int number) {
    Matcher matcher = Pattern.compile("inputs +(\\d{1,4}) +outputs +(\\d{1,4})").matcher(line);
    if (!matcher.matches()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "truth tables: line %d must be 'inputs N outputs M', found %s",
              number,
              shown(line)));
    }
    int[] sizes = {Integer.parseInt(matcher.group(1)), Integer.parseInt(matcher.group(2))};
    check("line " + number + ": the number of inputs", sizes[0], 0, MOST_INPUTS);
    check("line " + number + ": the number of outputs", sizes[1], 1, MOST_OUTPUTS);
    return sizes;
  }

  private static TruthTable parseOutput(String line, int number, int[] sizes, int known) {
    if (known == sizes[1] || line.length() != 1 << sizes[0]) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "truth tables: line %d must be %s, found %d characters",
              number,
              known == sizes[1]
                  ? "empty after " + sizes[1] + " outputs"
                  : (1 << sizes[0]) + " digits",
              line.length()));
    }
    try {
      return TruthTable.parse(line);
    } catch (IllegalArgumentException e) {
      throw new IllegalArgumentException(
          String.format(Locale.ROOT, "truth tables: line %d: %s", number, e.getMessage()), e);
    }
  }

  private static String shown(String line) {
    return line.length() <= 40 ? line : line.substring(0, 40) + "...";
  }

  private static List<String> numbered(String prefix, int count) {
    return IntStream.range(0, count).mapToObj(i -> prefix + i).toList();
  }

  private static void check(String what, int number, int least, int most) {
    if (number < least || number > most) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "truth tables: %s must be in [%d, %d], found %d",
              what,
              least,
              most,
              number));
    }
  }

  /**
   * Returns the names of the inputs, input 0 first.
   *
   * @return an immutable list
   */
  public List<String> inputNames() {
    return inputNames;
  }

  /**
   * Returns the names of the outputs.
   *
   * @return an immutable list
   */
  public List<String> outputNames() {
    return outputNames;
  }

  /**
   * Returns the tables of the outputs.
   *
   * @return an immutable list
   */
  public List<TruthTable> outputs() {
    return outputs;
  }

  /**
   * Returns the number of inputs.
   *
   * @return in [0, {@value #MOST_INPUTS}]
   */
  public int inputs() {
    return inputNames.size();
  }

  /**
   * Returns a part of this function.
   *
   * @param which the indices of the outputs to keep, in the new order
   * @return a function with the same inputs
   */
  public TruthTables select(int... which) {
    return of(
        inputNames,
        Arrays.stream(which).mapToObj(outputNames::get).toList(),
        Arrays.stream(which).mapToObj(outputs::get).toList());
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof TruthTables that
        && inputNames.equals(that.inputNames)
        && outputNames.equals(that.outputNames)
        && outputs.equals(that.outputs);
  }

  @Override
  public int hashCode() {
    return Objects.hash(inputNames, outputNames, outputs);
  }

  /** Returns the text that {@link #parse} reads if there are at most 8 inputs, else a summary. */
  @Override
  public String toString() {
    StringBuilder text =
        new StringBuilder("inputs " + inputs() + " outputs " + outputs.size() + "\n");
    outputs.forEach(output -> text.append(output).append('\n'));
    return text.toString();
  }
}

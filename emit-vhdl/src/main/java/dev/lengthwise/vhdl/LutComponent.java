package dev.lengthwise.vhdl;

import dev.lengthwise.name.HdlName;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * A device's LUT primitive. LUTs with fewer inputs get zeros at the rest.
 *
 * <p>Each block that uses it declares it as a component, with inputs and output of {@code
 * std_logic} and a table of {@code bit_vector(2^inputs - 1 downto 0)}, and makes its library
 * visible, so that simulators bind it to the library's entity.
 *
 * @param library the library of its simulation model, {@code work} if it has none
 * @param component its name
 * @param table the name of the generic that holds the truth table, bit i the output for inputs i
 * @param inputs the names of its inputs, input 0 (the least significant) first; at most 8
 * @param output the name of its output
 */
public record LutComponent(
    String library, String component, String table, List<String> inputs, String output) {

  /**
   * Checks the names.
   *
   * @param library see LutComponent
   * @param component see LutComponent
   * @param table see LutComponent
   * @param inputs see LutComponent
   * @param output see LutComponent
   * @throws IllegalArgumentException if a name is no VHDL name, names repeat in any case, or there
   *     are no inputs or too many
   */
  public LutComponent {
    inputs = List.copyOf(inputs);
    if (!library.equals("work")) {
      check("library", library);
    }
    check("component", component);
    check("table", table);
    check("output", output);
    inputs.forEach(input -> check("input", input));
    if (inputs.isEmpty() || inputs.size() > 8) {
      throw new IllegalArgumentException(
          "LUT component: 1 to 8 inputs are expected, found " + inputs.size());
    }
    Set<String> names = new LinkedHashSet<>();
    inputs.forEach(input -> names.add(input.toLowerCase(Locale.ROOT)));
    names.add(output.toLowerCase(Locale.ROOT));
    names.add(table.toLowerCase(Locale.ROOT));
    if (names.size() != inputs.size() + 2) {
      throw new IllegalArgumentException(
          "LUT component: table and ports must have names of their own, found "
              + table
              + ", "
              + inputs
              + ", "
              + output);
    }
  }

  private static void check(String what, String name) {
    if (!isName(name)) {
      throw new IllegalArgumentException(
          "LUT component: the " + what + " must be a VHDL name, found " + HdlName.quote(name));
    }
  }

  /** Tells whether a text is a basic identifier of the language. */
  static boolean isName(String text) {
    return text.matches("[A-Za-z](_?[A-Za-z0-9])*") && !HdlName.isReserved(text);
  }
}

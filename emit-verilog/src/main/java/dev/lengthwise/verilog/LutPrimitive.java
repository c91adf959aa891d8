package dev.lengthwise.verilog;

import dev.lengthwise.name.HdlName;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * A device's LUT primitive. LUTs with fewer inputs get zeros at the rest.
 *
 * @param module its module name
 * @param table the name of the parameter that holds the truth table, bit i the output for inputs i
 * @param inputs the names of its inputs, input 0 (the least significant) first; at most 8
 * @param output the name of its output
 */
public record LutPrimitive(String module, String table, List<String> inputs, String output) {

  /**
   * Checks the names.
   *
   * @param module see LutPrimitive
   * @param table see LutPrimitive
   * @param inputs see LutPrimitive
   * @param output see LutPrimitive
   * @throws IllegalArgumentException if a name is no Verilog name, ports repeat, or there are no
   *     inputs or too many
   */
  public LutPrimitive {
    inputs = List.copyOf(inputs);
    check("module", module);
    check("table", table);
    check("output", output);
    inputs.forEach(input -> check("input", input));
    if (inputs.isEmpty() || inputs.size() > 8) {
      throw new IllegalArgumentException(
          "LUT primitive: 1 to 8 inputs are expected, found " + inputs.size());
    }
    Set<String> ports = new LinkedHashSet<>(inputs);
    if (!ports.add(output) || ports.size() != inputs.size() + 1) {
      throw new IllegalArgumentException(
          "LUT primitive: every port must have a name of its own, found " + inputs + ", " + output);
    }
  }

  private static void check(String what, String name) {
    boolean keyword = name.equals(name.toLowerCase(Locale.ROOT)) && HdlName.isReserved(name);
    if (!name.matches("[A-Za-z_][A-Za-z0-9_$]*") || keyword) {
      throw new IllegalArgumentException(
          "LUT primitive: the " + what + " must be a Verilog name, found " + HdlName.quote(name));
    }
  }
}

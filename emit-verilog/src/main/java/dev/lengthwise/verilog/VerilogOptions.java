package dev.lengthwise.verilog;

import dev.lengthwise.circuit.text.Attribute;
import dev.lengthwise.name.HdlName;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;

/**
 * What to adapt to a device; the user fills it in from the device's documentation.
 *
 * @param lut what each LUT of a LUT network becomes
 * @param blockRam the attribute put on block RAM, such as {@code ram_kind = "block"}, or empty
 * @param distributedRam the attribute put on distributed RAM, or empty
 */
public record VerilogOptions(
    LutForm lut, Optional<String> blockRam, Optional<String> distributedRam) {

  /**
   * Checks the attributes.
   *
   * @param lut see VerilogOptions
   * @param blockRam see VerilogOptions
   * @param distributedRam see VerilogOptions
   * @throws IllegalArgumentException if an attribute is not a name, or a name and a value
   */
  public VerilogOptions {
    Objects.requireNonNull(lut, "lut");
    blockRam.ifPresent(text -> Attribute.of("block RAM attribute", text));
    distributedRam.ifPresent(text -> Attribute.of("distributed RAM attribute", text));
  }

  /**
   * Returns options that suit most tools: LUTs as instances of a block that {@code keep_hierarchy}
   * keeps, and {@code ram_style} on RAM, so that it becomes the kind that its cost counts.
   *
   * @return the options
   */
  public static VerilogOptions standard() {
    return new VerilogOptions(
        new LutBlock("keep_hierarchy = \"yes\""),
        Optional.of("ram_style = \"block\""),
        Optional.of("ram_style = \"distributed\""));
  }

  /**
   * Returns these options with another form of LUTs.
   *
   * @param form what each LUT becomes
   * @return new options
   */
  public VerilogOptions withLut(LutForm form) {
    return new VerilogOptions(form, blockRam, distributedRam);
  }

  /**
   * Returns these options with an attribute on block RAM.
   *
   * @param attribute a name, or a name and a value
   * @return new options
   * @throws IllegalArgumentException if it is neither
   */
  public VerilogOptions withBlockRam(String attribute) {
    return new VerilogOptions(lut, Optional.of(attribute), distributedRam);
  }

  /**
   * Returns these options with an attribute on distributed RAM.
   *
   * @param attribute a name, or a name and a value
   * @return new options
   * @throws IllegalArgumentException if it is neither
   */
  public VerilogOptions withDistributedRam(String attribute) {
    return new VerilogOptions(lut, blockRam, Optional.of(attribute));
  }

  /** What each LUT of a LUT network becomes. */
  public sealed interface LutForm permits LutBlock, LutAssignment, LutPrimitive {}

  /**
   * An instance of a block of the design's own, {@code <design>_lut}, in a file of its own, which
   * an attribute keeps as it is through synthesis.
   *
   * @param attribute the attribute, such as {@code keep_hierarchy = "yes"}
   */
  public record LutBlock(String attribute) implements LutForm {

    /**
     * Checks the attribute.
     *
     * @param attribute see LutBlock
     * @throws IllegalArgumentException if it is not a name, or a name and a value
     */
    public LutBlock {
      Attribute.of("LUT block attribute", attribute);
    }
  }

  /** An assignment, which synthesis may take apart and map anew. */
  public record LutAssignment() implements LutForm {}

  /**
   * An instance of a device's LUT primitive. LUTs with fewer inputs get zeros at the rest.
   *
   * @param module its module name
   * @param table the name of the parameter that holds the truth table, bit i the output for inputs
   *     i
   * @param inputs the names of its inputs, input 0 (the least significant) first; at most 8
   * @param output the name of its output
   */
  public record LutPrimitive(String module, String table, List<String> inputs, String output)
      implements LutForm {

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
            "LUT primitive: every port must have a name of its own, found "
                + inputs
                + ", "
                + output);
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
}

package dev.lengthwise.vhdl;

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
 * <p>Attributes are written as in Verilog, so that one text serves both languages: {@code name =
 * "text"} becomes an attribute of type {@code string}, {@code name = 12} of type {@code integer},
 * and {@code name} alone of type {@code boolean}, with the value true.
 *
 * @param lut the component that LUTs become, or empty for function calls
 * @param blockRam the attribute put on block RAM, such as {@code ram_kind = "block"}, or empty
 * @param distributedRam the attribute put on distributed RAM, or empty
 */
public record VhdlOptions(
    Optional<LutComponent> lut, Optional<String> blockRam, Optional<String> distributedRam) {

  /**
   * Checks the attributes.
   *
   * @param lut see VhdlOptions
   * @param blockRam see VhdlOptions
   * @param distributedRam see VhdlOptions
   * @throws IllegalArgumentException if an attribute is not a VHDL name, or such a name and a value
   */
  public VhdlOptions {
    Objects.requireNonNull(lut, "lut");
    blockRam.ifPresent(text -> attribute("block RAM attribute", text));
    distributedRam.ifPresent(text -> attribute("distributed RAM attribute", text));
  }

  /** Reads an attribute. */
  static Attribute attribute(String subject, String text) {
    Attribute attribute = Attribute.of(subject, text);
    if (!LutComponent.isName(attribute.name())) {
      throw new IllegalArgumentException(
          subject + ": the name must be a VHDL name, found " + HdlName.quote(attribute.name()));
    }
    return attribute;
  }

  /**
   * Returns options that suit every device: no component, no attribute.
   *
   * @return the options
   */
  public static VhdlOptions standard() {
    return new VhdlOptions(Optional.empty(), Optional.empty(), Optional.empty());
  }

  /**
   * Returns these options with LUTs as instances of a component.
   *
   * @param component the component
   * @return new options
   */
  public VhdlOptions withLut(LutComponent component) {
    return new VhdlOptions(Optional.of(component), blockRam, distributedRam);
  }

  /**
   * Returns these options with an attribute on block RAM.
   *
   * @param attribute a name, or a name and a value
   * @return new options
   * @throws IllegalArgumentException if it is neither
   */
  public VhdlOptions withBlockRam(String attribute) {
    return new VhdlOptions(lut, Optional.of(attribute), distributedRam);
  }

  /**
   * Returns these options with an attribute on distributed RAM.
   *
   * @param attribute a name, or a name and a value
   * @return new options
   * @throws IllegalArgumentException if it is neither
   */
  public VhdlOptions withDistributedRam(String attribute) {
    return new VhdlOptions(lut, blockRam, Optional.of(attribute));
  }

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
     * @throws IllegalArgumentException if a name is no VHDL name, names repeat in any case, or
     *     there are no inputs or too many
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
}

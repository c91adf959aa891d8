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
 * @param lut what each LUT of a LUT network becomes
 * @param blockRam the attribute put on block RAM, such as {@code ram_kind = "block"}, or empty
 * @param distributedRam the attribute put on distributed RAM, or empty
 */
public record VhdlOptions(LutForm lut, Optional<String> blockRam, Optional<String> distributedRam) {

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
   * Returns options that suit most tools: LUTs as instances of a block that {@code keep_hierarchy}
   * keeps, and {@code ram_style} on RAM, so that it becomes the kind that its cost counts.
   *
   * @return the options
   */
  public static VhdlOptions standard() {
    return new VhdlOptions(
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
  public VhdlOptions withLut(LutForm form) {
    return new VhdlOptions(form, blockRam, distributedRam);
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

  /** What each LUT of a LUT network becomes. */
  public sealed interface LutForm permits LutBlock, LutAssignment, LutComponent {}

  /**
   * An instance of a block of the design's own, {@code <design>_lut}, in a file of its own, which
   * an attribute of its architecture keeps as it is through synthesis.
   *
   * @param attribute the attribute, such as {@code keep_hierarchy = "yes"}
   */
  public record LutBlock(String attribute) implements LutForm {

    /**
     * Checks the attribute.
     *
     * @param attribute see LutBlock
     * @throws IllegalArgumentException if it is not a VHDL name, or such a name and a value, or the
     *     block calls something else so
     */
    public LutBlock {
      String name = VhdlOptions.attribute("LUT block attribute", attribute).name();
      if (LutEntity.NAMES.contains(name.toLowerCase(Locale.ROOT))) {
        throw new IllegalArgumentException(
            "LUT block attribute: the name must be none of "
                + String.join(", ", LutEntity.NAMES)
                + ", found "
                + HdlName.quote(name));
      }
    }
  }

  /** An assignment of a function call, which synthesis may take apart and map anew. */
  public record LutAssignment() implements LutForm {}

  /**
   * An instance of a device's LUT primitive. LUTs with fewer inputs get zeros at the rest.
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
      String library, String component, String table, List<String> inputs, String output)
      implements LutForm {

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

package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.text.Attribute;
import dev.lengthwise.name.HdlName;
import java.util.Objects;
import java.util.Optional;

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
}

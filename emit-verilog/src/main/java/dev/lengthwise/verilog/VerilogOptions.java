package dev.lengthwise.verilog;

import dev.lengthwise.circuit.text.Attribute;
import java.util.Objects;
import java.util.Optional;

/**
 * What to adapt to a device; the user fills it in from the device's documentation.
 *
 * @param lut the primitive that LUTs become, or empty for assignments
 * @param blockRam the attribute put on block RAM, such as {@code ram_kind = "block"}, or empty
 * @param distributedRam the attribute put on distributed RAM, or empty
 */
public record VerilogOptions(
    Optional<LutPrimitive> lut, Optional<String> blockRam, Optional<String> distributedRam) {

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
   * Returns options that suit every device: no primitive, no attribute.
   *
   * @return the options
   */
  public static VerilogOptions standard() {
    return new VerilogOptions(Optional.empty(), Optional.empty(), Optional.empty());
  }

  /**
   * Returns these options with LUTs as instances of a primitive.
   *
   * @param primitive the primitive
   * @return new options
   */
  public VerilogOptions withLut(LutPrimitive primitive) {
    return new VerilogOptions(Optional.of(primitive), blockRam, distributedRam);
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
}

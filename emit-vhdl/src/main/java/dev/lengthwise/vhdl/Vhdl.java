package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitOutput;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.text.DesignText;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.EmissionPlans;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * Prints circuits as VHDL for synthesis and simulation, accepted by IEEE 1076-1993 and 1076-2008.
 *
 * <p>Each block becomes the file {@code vhdl/<block>.vhd}; {@code vhdl/<top>.f} lists them in
 * compile order, one a line, relative to its own directory.
 */
public final class Vhdl implements CircuitOutput {

  private final VhdlOptions options;

  /** Prints with {@link VhdlOptions#standard}. */
  public Vhdl() {
    this(VhdlOptions.standard());
  }

  /**
   * Prints with options.
   *
   * @param options what to adapt to a device
   */
  public Vhdl(VhdlOptions options) {
    this.options = Objects.requireNonNull(options, "options");
  }

  /**
   * Prints a circuit and all blocks inside it, and the block that LUTs are instances of.
   *
   * @param top the circuit
   * @return one file for each block in compile order, then the list of their names
   * @throws IllegalArgumentException if a LUT has more inputs than the component of the options, or
   *     the component's or an attribute's name is a name of the block
   * @throws IllegalStateException if two different blocks share a name
   */
  @Override
  public List<OutputFile> files(Circuit top) {
    return EmissionPlans.files(top, "vhdl", ".vhd", new Files());
  }

  private final class Files implements DesignText {

    @Override
    public String block(EmissionPlan plan) {
      return Block.text(plan, options);
    }

    @Override
    public Optional<String> lutBlock(String name) {
      return options.lut() instanceof VhdlOptions.LutBlock form
          ? Optional.of(LutEntity.text(name, form))
          : Optional.empty();
    }
  }
}

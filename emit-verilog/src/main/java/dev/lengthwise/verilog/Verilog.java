package dev.lengthwise.verilog;

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
 * Prints a circuit as Verilog: {@code verilog/<block>.v}, and {@code verilog/<top>.f} to list them.
 */
public final class Verilog implements CircuitOutput {

  private final VerilogOptions options;

  /** Prints with {@link VerilogOptions#standard}. */
  public Verilog() {
    this(VerilogOptions.standard());
  }

  /**
   * Prints with options.
   *
   * @param options what to adapt to a device
   */
  public Verilog(VerilogOptions options) {
    this.options = Objects.requireNonNull(options, "options");
  }

  /**
   * Prints a circuit and all blocks inside it, and the block that LUTs are instances of.
   *
   * @param top the circuit
   * @return one file for each block in compile order, then the list of their names
   * @throws IllegalArgumentException if a LUT has more inputs than the primitive of the options
   * @throws IllegalStateException if two different blocks share a name
   */
  @Override
  public List<OutputFile> files(Circuit top) {
    return EmissionPlans.files(top, "verilog", ".v", new Files());
  }

  private final class Files implements DesignText {

    @Override
    public String block(EmissionPlan plan) {
      return new ModuleText(plan, options).text();
    }

    @Override
    public Optional<String> lutBlock(String name) {
      return options.lut() instanceof VerilogOptions.LutBlock form
          ? Optional.of(LutText.module(name, form))
          : Optional.empty();
    }
  }
}

package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitOutput;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.text.EmissionPlans;
import java.util.List;
import java.util.Objects;

/**
 * Prints a circuit as Verilog: {@code verilog/<block>.v}, and {@code verilog/<top>.f} to list them.
 */
public final class Verilog implements CircuitOutput {

  private final VerilogOptions options;

  /** Prints with standard options: nothing that only one vendor's tools know. */
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
   * Prints a circuit and all blocks inside it.
   *
   * @param top the circuit
   * @return one file for each block in compile order, then the list of their names
   * @throws IllegalArgumentException if a LUT has more inputs than the primitive of the options
   * @throws IllegalStateException if two different blocks share a name
   */
  @Override
  public List<OutputFile> files(Circuit top) {
    return EmissionPlans.files(top, "verilog", ".v", plan -> new ModuleText(plan, options).text());
  }
}

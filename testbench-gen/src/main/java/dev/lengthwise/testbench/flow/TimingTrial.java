package dev.lengthwise.testbench.flow;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.CircuitOutput;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.DesignOutput;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/**
 * Prints a design inside a block for timing trials, {@code <design>_timing}: what is then measured
 * is the clock from register to register, whatever pins a device has.
 *
 * <p>A chain of registers, filled from one pin, feeds the inputs; each output has a register; these
 * are folded to one pin in steps of one LUT, so that no path of the block itself is longer than one
 * LUT between two registers. Written to a folder of its own, as it has the design's own files too.
 */
public final class TimingTrial implements DesignOutput {

  private static final String SUFFIX = "_timing";

  /** The bits that are folded in one LUT beside those folded before. */
  private static final int FOLDED = 3;

  private final CircuitOutput language;

  /**
   * Creates the back end.
   *
   * @param language prints the block and the design inside
   */
  public TimingTrial(CircuitOutput language) {
    this.language = Objects.requireNonNull(language, "language");
  }

  /** Returns the name of the block around a design. */
  static String top(String design) {
    return design + SUFFIX;
  }

  @Override
  public List<OutputFile> files(Design design) {
    return language.files(around(design.circuit()));
  }

  /**
   * Prints a text of the user's inside the block, to compare it with.
   *
   * @param verilog the text of a module without clock, and before it those of modules inside; the
   *     ports of the last module are in its head, as {@code input [7:0] code}, and have legal names
   * @return the files of a design of that module's name; the language must be Verilog
   * @throws IllegalArgumentException if the text has no such module
   */
  public List<OutputFile> files(String verilog) {
    Circuit shell = ModuleHead.shell(verilog);
    List<OutputFile> files = new ArrayList<>();
    for (OutputFile file : language.files(around(shell))) {
      boolean own = file.path().endsWith('/' + shell.name() + ".v");
      files.add(own ? new OutputFile(file.path(), verilog) : file);
    }
    return List.copyOf(files);
  }

  /** Returns the block. */
  static Circuit around(Circuit design) {
    CircuitBuilder block =
        Circuit.named(
                top(design.name()),
                "Registers around "
                    + design.name()
                    + ", for trials of its clock; the pins say nothing of use.")
            .reset(design.reset());
    Signal chain = block.input("serial_in", 1, "fills the registers before the design");
    Map<String, Signal> inputs = new LinkedHashMap<>();
    for (Port port : design.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        Signal register = block.dataRegister("in_" + port.name(), port.width());
        block.drive(
            register,
            port.width() == 1
                ? chain
                : block.concat(List.of(chain, block.slice(register, 0, port.width() - 1))));
        chain = block.bit(register, port.width() - 1);
        inputs.put(port.key(), register);
      }
    }
    Map<String, Signal> outputs = block.instance("under_trial", design, inputs);
    List<Signal> bits = new ArrayList<>();
    for (Port port : design.ports()) {
      if (port.direction() == Port.Direction.OUTPUT) {
        Signal register = block.dataRegister("out_" + port.name(), port.width());
        block.drive(register, outputs.get(port.key()));
        for (int bit = 0; bit < port.width(); bit++) {
          bits.add(block.bit(register, bit));
        }
      }
    }
    block.output("serial_out", folded(block, bits), "depends on every output of the design");
    return block.build();
  }

  /** Folds bits step by step, with a register behind each. */
  private static Signal folded(CircuitBuilder block, List<Signal> bits) {
    List<Signal> next = new ArrayList<>();
    Signal folded = null;
    for (int from = 0; from < bits.size(); from += FOLDED) {
      next.addAll(bits.subList(from, Math.min(bits.size(), from + FOLDED)));
      folded = block.dataRegister("folded_" + from / FOLDED, 1);
      block.drive(folded, next.size() == 1 ? next.get(0) : block.xor(next));
      next.clear();
      next.add(folded);
    }
    return Objects.requireNonNull(folded, "a circuit has an output");
  }
}

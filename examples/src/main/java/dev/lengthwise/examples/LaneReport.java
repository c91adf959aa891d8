package dev.lengthwise.examples;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.BuiltInSimulator;
import dev.lengthwise.testbench.LaneVectors;
import dev.lengthwise.testbench.SimulationResult;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.verilog.Verilog;
import java.io.PrintWriter;
import java.nio.file.Path;

/** What every example of a lane does: realise, check in Java, write the tree, print a table. */
final class LaneReport {

  private static final long SEED = 1;

  private final PrintWriter out;
  private final Path folder;

  LaneReport(PrintWriter out, Path folder) {
    this.out = out;
    this.folder = folder;
  }

  /** Returns true if the circuit agrees with the golden model on every vector. */
  boolean run(Predecoder lane, Style style) {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, style);
    LaneVectors vectors = LaneVectors.of(lane, LaneVectors.RANDOM, SEED);
    SimulationResult result = BuiltInSimulator.run(design, vectors);
    OutputTree.at(folder)
        .add(new Verilog())
        .add(new Testbenches(LaneVectors.RANDOM, SEED))
        .write(design);
    TextTable table = new TextTable("block", "inputs", "outputs", "vectors", "agreement");
    for (Circuit block : design.circuit().blocks()) {
      boolean top = block == design.circuit();
      table.row(
          block.name(),
          bits(block, Port.Direction.INPUT),
          bits(block, Port.Direction.OUTPUT),
          top ? result.vectors() : "",
          top ? (result.passed() ? "all agree" : result.mismatches() + " differ") : "");
    }
    out.print(table);
    result.shown().forEach(out::println);
    out.printf(
        "%nwritten to %s: verilog/%s.f lists the RTL, bench/verilog/%s_tb.v is its bench%n",
        folder, design.name(), design.name());
    return result.passed();
  }

  private static int bits(Circuit block, Port.Direction direction) {
    return block.ports().stream()
        .filter(port -> port.direction() == direction)
        .mapToInt(Port::width)
        .sum();
  }
}

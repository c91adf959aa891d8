package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.WrittenDesign;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/** Runs an emitted Verilog bench in Icarus Verilog (Debian package {@code iverilog}). */
public final class IcarusVerilog implements Simulator {

  /** Creates a runner. */
  public IcarusVerilog() {}

  @Override
  public String name() {
    return "Icarus Verilog";
  }

  @Override
  public SimulationResult run(Path tree, String design) {
    Objects.requireNonNull(design, "design");
    WrittenDesign written = WrittenDesign.of(tree, design);
    List<String> compile = new ArrayList<>();
    compile.addAll(List.of("iverilog", "-g2005", "-Wall", "-o", "bench.vvp"));
    compile.addAll(List.of("-s", written.benchTop(), written.verilogBench()));
    compile.addAll(written.verilog());
    List<String> run = List.of("vvp", "-n", "bench.vvp", "+vectors=" + written.vectors());
    return SimulatorSteps.run(this, "iverilog", List.of(compile, run));
  }
}

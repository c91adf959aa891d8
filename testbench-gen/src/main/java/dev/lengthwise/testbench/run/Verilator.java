package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/**
 * Runs an emitted Verilog bench in Verilator 5 (Debian packages {@code verilator}, {@code g++} and
 * {@code make}). It computes with 0 and 1 only, so unknown values show in other simulators.
 */
public final class Verilator implements Simulator {

  private static final List<String> COMPILE = List.of("verilator", "--binary", "-O1");

  /** Compiling takes longer than running, so the compiler need not try hard. */
  private static final List<String> MAKE =
      List.of("OPT_FAST=-O0", "OPT_SLOW=-O0", "OPT_GLOBAL=-O0");

  /** Creates a runner. */
  public Verilator() {}

  @Override
  public String name() {
    return "Verilator";
  }

  @Override
  public SimulationResult run(Path tree, String design) {
    Objects.requireNonNull(design, "design");
    for (String program : List.of("g++", "make")) {
      ToolRun.of(program, tree, 60, List.of(program, "--version"));
    }
    VerilatorLibrary library = VerilatorLibrary.compiled(COMPILE, MAKE);
    WrittenDesign written = WrittenDesign.of(tree, design);
    List<String> compile = new ArrayList<>(COMPILE);
    String make = String.join(" ", MAKE) + " VM_GLOBAL_FAST= VM_GLOBAL_SLOW=";
    compile.addAll(List.of("-MAKEFLAGS", make));
    compile.addAll(List.of("--Mdir", "model", "--top-module", written.benchTop()));
    compile.addAll(List.of("-o", "bench", written.verilogBench()));
    compile.addAll(written.verilog());
    compile.addAll(List.of("-CFLAGS", "-include " + library.headers()));
    compile.addAll(library.objects());
    List<String> run = List.of("model/bench", "+vectors=" + written.vectors());
    return SimulatorSteps.run(this, "verilator", List.of(compile, run));
  }
}

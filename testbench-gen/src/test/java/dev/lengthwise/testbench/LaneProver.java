package dev.lengthwise.testbench;

import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testing.GhdlNetlist;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** Proves with Yosys that a lane's files still mean what they meant when the prover was made. */
final class LaneProver {

  private final Path folder;
  private final String top;
  private final boolean verilog;
  private final List<Path> files;

  LaneProver(Path tree, String top, boolean verilog, List<Path> files) throws IOException {
    this.folder = Files.createDirectories(tree.resolve("proof"));
    this.top = top;
    this.verilog = verilog;
    this.files = files;
    netlist("gold.v");
  }

  /** Tells whether every input still gives the same length. */
  boolean isUnchanged() throws IOException {
    netlist("gate.v");
    // An unknown value is what an impossible choice gives; it is the same constant on both sides.
    String synthesis =
        "hierarchy -top "
            + top
            + "; setattr -mod -unset keep_hierarchy *; proc; flatten; memory; setundef -zero; opt_clean";
    String script =
        String.join(
            "; ",
            "read_verilog gold.v",
            synthesis,
            "rename " + top + " gold",
            "design -stash gold",
            "read_verilog gate.v",
            synthesis,
            "rename " + top + " gate",
            "design -stash gate",
            "design -copy-from gold -as gold gold",
            "design -copy-from gate -as gate gate",
            "miter -equiv -flatten gold gate miter",
            "sat -verify -prove trigger 0 miter");
    ToolRun run = ToolRun.of("yosys", folder, 120, List.of("yosys", "-q", "-p", script));
    // A fault that makes a latch, which the solver does not take, has changed something.
    boolean refuted = run.output().contains("proof did fail") || run.output().contains("dlatch");
    if (run.status() != 0 && !refuted) {
      throw new AssertionError("yosys: a proof is expected to end, found\n" + run.output());
    }
    return run.status() == 0;
  }

  /** Writes the lane as one Verilog file. */
  private void netlist(String name) throws IOException {
    if (verilog) {
      StringBuilder text = new StringBuilder();
      for (Path file : files) {
        text.append(Files.readString(file));
      }
      Files.writeString(folder.resolve(name), text);
      return;
    }
    List<String> vhdl = files.stream().map(Path::toString).toList();
    Files.writeString(folder.resolve(name), GhdlNetlist.of(vhdl, top, folder));
  }
}

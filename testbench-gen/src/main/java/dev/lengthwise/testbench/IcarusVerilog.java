package dev.lengthwise.testbench;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;

/** Runs an emitted Verilog bench in Icarus Verilog (Debian package {@code iverilog}). */
public final class IcarusVerilog {

  private static final int MOST_SECONDS = 600;

  /** Creates a runner. */
  public IcarusVerilog() {}

  /**
   * Compiles the emitted Verilog of a tree with its bench and runs it.
   *
   * @param tree the folder that the design was written to
   * @param design the design's name
   * @return what the simulator said
   * @throws IllegalStateException if Icarus Verilog is not installed or takes over 600 seconds
   * @throws UncheckedIOException if the tree cannot be read
   */
  public SimulationResult run(Path tree, String design) {
    long start = System.nanoTime();
    try {
      Path root = tree.toAbsolutePath();
      Path work = Files.createTempDirectory("lengthwise");
      List<String> compile = new ArrayList<>();
      compile.addAll(List.of("iverilog", "-g2005", "-Wall", "-o", work + "/bench.vvp"));
      compile.addAll(List.of("-s", design + "_tb", root + "/bench/verilog/" + design + "_tb.v"));
      compile.addAll(FileList.verilog(root, design));
      ToolRun run = ToolRun.of("iverilog", work, MOST_SECONDS, compile);
      if (run.status() == 0) {
        ToolRun simulated =
            ToolRun.of(
                "iverilog",
                work,
                MOST_SECONDS,
                List.of(
                    "vvp",
                    "-n",
                    work + "/bench.vvp",
                    "+vectors=" + root + "/bench/vectors/" + design + ".hex"));
        run = new ToolRun(simulated.status(), run.output() + simulated.output());
      }
      Files.deleteIfExists(work.resolve("bench.vvp"));
      Files.deleteIfExists(work);
      return SimulationResult.of(
          "Icarus Verilog", run, Duration.ofNanos(System.nanoTime() - start));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

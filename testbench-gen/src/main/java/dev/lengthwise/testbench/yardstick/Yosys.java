package dev.lengthwise.testbench.yardstick;

import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.YosysRun;
import dev.lengthwise.work.Work;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Maps Verilog to LUTs with the general synthesis tool Yosys (Debian package {@code yosys}), by
 * several of its scripts, as a yardstick for our own mapping.
 */
public final class Yosys {

  private static final int MOST_SECONDS = 300;

  private static final String SMALL = "proc; opt -full; memory; opt -full; techmap; opt; ";

  private static final List<String> SCRIPTS =
      List.of(
          "synth -lut %d",
          "synth -flatten; abc -lut %d",
          SMALL + "abc -lut %d",
          SMALL + "abc -lut %d -script +strash;dch,-f;if,-a;mfs2,-a;lutpack,-S,1",
          SMALL + "abc -lut %d -script +strash;ifraig;scorr;dc2;dch,-f;if;mfs2;lutpack",
          "proc -norom; opt -full; techmap; opt -full; abc -lut %d");

  /**
   * What a script reached.
   *
   * @param script the script
   * @param luts its LUTs; buffers and constants not counted
   * @param levels the LUTs on its longest path
   */
  public record Figure(String script, int luts, int levels) {}

  private final String program;

  /** Creates a runner. */
  public Yosys() {
    this("yosys");
  }

  /**
   * Creates a runner of another program of the same options.
   *
   * @param program the name of the program
   */
  public Yosys(String program) {
    this.program = program;
  }

  /**
   * Tells whether the program is installed.
   *
   * @return true if it can be run
   */
  public boolean isInstalled() {
    try {
      return ToolRun.of("yosys", Path.of("."), MOST_SECONDS, List.of(program, "-V")).status() == 0;
    } catch (IllegalStateException missing) {
      return false;
    }
  }

  /**
   * Maps with every script and keeps the result with fewest LUTs, fewest levels among those.
   *
   * @param texts texts of one function, each with one module that no other instantiates
   * @param lutInputs the inputs of a LUT, in [2, 8]
   * @return the best figure
   * @throws IllegalStateException if Yosys is not installed, fails, or takes over 300 seconds
   */
  public Figure best(List<String> texts, int lutInputs) {
    return texts.stream()
        .flatMap(text -> all(text, lutInputs).stream())
        .min(Comparator.comparingInt(Figure::luts).thenComparingInt(Figure::levels))
        .orElseThrow();
  }

  /**
   * Maps with every script, on all cores.
   *
   * @param verilog the text, with one module that no other instantiates
   * @param lutInputs the inputs of a LUT, in [2, 8]
   * @return one figure for each script
   * @throws IllegalStateException if Yosys is not installed, fails, or takes over 300 seconds
   */
  public List<Figure> all(String verilog, int lutInputs) {
    return Work.parallel(
        () ->
            SCRIPTS.parallelStream()
                .map(script -> String.format(Locale.ROOT, script, lutInputs))
                .map(
                    script ->
                        within(MOST_SECONDS, verilog, script)
                            .orElseThrow(
                                () ->
                                    new IllegalStateException(
                                        String.format(
                                            Locale.ROOT,
                                            "yosys: the script must end within %d seconds, found running %s",
                                            MOST_SECONDS,
                                            script))))
                .toList());
  }

  /**
   * Maps with one script, which large texts may keep busy for hours.
   *
   * @param seconds how long it may take, at least 1
   * @param verilog the text, with one module that no other instantiates
   * @param script that of a figure
   * @return what it reached, or empty if it did not end in that time
   * @throws IllegalArgumentException if the time is below 1
   * @throws IllegalStateException if Yosys is not installed or fails
   */
  public Optional<Figure> within(int seconds, String verilog, String script) {
    if (seconds < 1) {
      throw new IllegalArgumentException(
          "yosys: a script must be given at least 1 second, found " + seconds);
    }
    Work.check();
    try {
      Path folder = Files.createTempDirectory("lengthwise");
      Path source = folder.resolve("in.v");
      Path netlist = folder.resolve("out.blif");
      try {
        Files.writeString(source, verilog, StandardCharsets.US_ASCII);
        return map(folder, seconds, script)
            ? Optional.of(LutNetlist.parse(Files.readString(netlist)).figure(script))
            : Optional.empty();
      } finally {
        Files.deleteIfExists(source);
        Files.deleteIfExists(netlist);
        Files.deleteIfExists(folder);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Tells whether the script ended in time. */
  private boolean map(Path folder, int seconds, String script) {
    String commands =
        "read_verilog in.v; hierarchy -auto-top; flatten; "
            + script
            + "; opt_clean; write_blif out.blif";
    Optional<ToolRun> run = YosysRun.within(program, folder, seconds, commands);
    if (run.isEmpty() || run.get().status() == 0) {
      return run.isPresent();
    }
    throw new IllegalStateException(
        "yosys: the script must pass, found " + script + "\n" + run.get().output());
  }
}

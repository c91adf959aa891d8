package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.ToolRun;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;

/**
 * Verilator's own run-time library, compiled once in a process instead of with each bench, which
 * takes three quarters of the time of a small one. Kept in a temporary folder up to the end of the
 * process.
 */
final class VerilatorLibrary {

  /** Waits, so that the library has what benches need for it. */
  private static final String WAITING = "module waiting; initial #1 $finish; endmodule\n";

  private static final int MOST_SECONDS = 600;

  private static List<String> objects;

  private VerilatorLibrary() {}

  /**
   * Returns the object files.
   *
   * @param options the options of every compilation
   * @throws IllegalStateException if Verilator is not installed or rejects a module
   */
  static synchronized List<String> objects(List<String> options) {
    if (objects == null) {
      try {
        objects = compile(options);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return objects;
  }

  private static List<String> compile(List<String> options) throws IOException {
    Path folder = Files.createTempDirectory("lengthwise");
    Runtime.getRuntime().addShutdownHook(new Thread(() -> SimulatorSteps.delete(folder)));
    Files.writeString(folder.resolve("waiting.v"), WAITING);
    List<String> command = new ArrayList<>(options);
    command.addAll(List.of("-Wno-STMTDLY", "--Mdir", "model", "waiting.v"));
    ToolRun run = ToolRun.of("verilator", folder, MOST_SECONDS, command);
    if (run.status() != 0) {
      throw new IllegalStateException("verilator: a module must compile, found " + run.output());
    }
    try (Stream<Path> files = Files.list(folder.resolve("model"))) {
      return files
          .map(Path::toString)
          .filter(file -> file.matches(".*/verilated\\w*\\.o"))
          .sorted()
          .toList();
    }
  }
}

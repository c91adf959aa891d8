package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WorkFolder;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * Verilator's own run-time library and its headers, compiled once in a process instead of with each
 * bench, which takes nine tenths of the time of a small one. Kept in a temporary folder up to the
 * end of the process, or, where the system property {@value #KEPT} names a folder, in that for
 * other processes too.
 */
final class VerilatorLibrary {

  private static final String KEPT = "lengthwise.verilator";

  /** Waits, so that the library has what benches need for it. */
  private static final String WAITING = "module waiting; initial #1 $finish; endmodule\n";

  /** What every bench includes; the compiler takes the compiled form that lies beside it. */
  private static final String HEADERS =
      """
      #include "verilated.h"
      #include "verilated_timing.h"
      """;

  /** Compiles the headers as Verilator's own rules compile a bench. */
  private static final String HEADERS_RULE =
      """
      include Vwaiting.mk
      headers.h.gch: headers.h
      \t$(CXX) $(CXXFLAGS) $(CPPFLAGS) $(OPT_FAST) -x c++-header -o $@ $<
      """;

  private static final int MOST_SECONDS = 600;

  private static VerilatorLibrary shared;

  private final Path model;
  private final List<String> objects;

  private VerilatorLibrary(Path model, List<String> objects) {
    this.model = model;
    this.objects = List.copyOf(objects);
  }

  /**
   * Returns the library, which the first call compiles.
   *
   * @param options the options of every compilation
   * @param make what it tells make
   * @throws IllegalStateException if Verilator is not installed or rejects a module
   */
  static synchronized VerilatorLibrary compiled(List<String> options, List<String> make) {
    if (shared == null) {
      try {
        shared = of(options, make);
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return shared;
  }

  /** Returns the object files to link with. */
  List<String> objects() {
    return objects;
  }

  /** Returns the file that a bench's own files are to include first. */
  Path headers() {
    return model.resolve("headers.h");
  }

  private static VerilatorLibrary of(List<String> options, List<String> make) throws IOException {
    String kept = System.getProperty(KEPT);
    Path folder;
    if (kept == null) {
      WorkFolder work = WorkFolder.make();
      Runtime.getRuntime().addShutdownHook(new Thread(work::close));
      folder = work.path();
      compile(folder, options, make);
    } else {
      Path place = Path.of(kept).resolve(key(options, make));
      folder = SharedFolder.filled(place, part -> compile(part, options, make));
    }
    Path model = folder.resolve("model");
    try (Stream<Path> files = Files.list(model)) {
      return new VerilatorLibrary(
          model,
          files
              .map(Path::toString)
              .filter(file -> file.matches(".*/verilated\\w*\\.o"))
              .sorted()
              .toList());
    }
  }

  /** Returns a name that differs where what is compiled may. */
  private static String key(List<String> options, List<String> make) {
    Path here = Path.of("").toAbsolutePath();
    List<Object> parts = new ArrayList<>(List.of(options, make, WAITING, HEADERS, HEADERS_RULE));
    for (String program : List.of("verilator", "g++")) {
      parts.add(ToolRun.of(program, here, MOST_SECONDS, List.of(program, "--version")).output());
    }
    byte[] text = parts.toString().getBytes(StandardCharsets.UTF_8);
    return UUID.nameUUIDFromBytes(text).toString();
  }

  private static void compile(Path folder, List<String> options, List<String> make)
      throws IOException {
    Files.writeString(folder.resolve("waiting.v"), WAITING);
    List<String> command = new ArrayList<>(options);
    command.addAll(List.of("-MAKEFLAGS", String.join(" ", make)));
    command.addAll(List.of("-Wno-STMTDLY", "--Mdir", "model", "waiting.v"));
    step("verilator", folder, command);
    Path model = folder.resolve("model");
    Files.writeString(model.resolve("headers.h"), HEADERS);
    Files.writeString(model.resolve("headers.mk"), HEADERS_RULE);
    List<String> headers = new ArrayList<>(List.of("make", "-f", "headers.mk", "headers.h.gch"));
    headers.addAll(make);
    step("make", model, headers);
  }

  private static void step(String debianPackage, Path folder, List<String> command) {
    ToolRun run = ToolRun.of(debianPackage, folder, MOST_SECONDS, command);
    if (run.status() != 0) {
      throw new IllegalStateException("verilator: a module must compile, found " + run.output());
    }
  }
}

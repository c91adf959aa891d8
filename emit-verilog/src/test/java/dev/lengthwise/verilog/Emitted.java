package dev.lengthwise.verilog;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.OutputFile;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/** A circuit's Verilog on disk, and the outside checks on it. */
final class Emitted {

  private final Circuit circuit;
  private final Path directory;
  private final List<String> files = new ArrayList<>();

  Emitted(Circuit circuit, VerilogOptions options, Path directory) {
    this.circuit = circuit;
    this.directory = directory;
    for (OutputFile file : new Verilog(options).files(circuit)) {
      add(file.path(), file.text());
    }
  }

  /** Adds a file, such as the model of a primitive. */
  void add(String path, String text) {
    Path target = directory.resolve(path);
    try {
      Files.createDirectories(target.getParent());
      Files.writeString(target, text, StandardCharsets.US_ASCII);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    if (path.endsWith(".v")) {
      files.add(path);
    }
  }

  /** Checks that three tools read the text without a word of complaint and find no latch. */
  void checkLint() {
    assertWithMessage("verilator on %s", circuit)
        .that(
            Tool.VERILATOR.run(
                directory,
                with(
                    List.of(
                        "--lint-only",
                        "-Wall",
                        "--language",
                        "1364-2005",
                        "--top-module",
                        circuit.name()))))
        .isEmpty();
    assertWithMessage("iverilog on %s", circuit)
        .that(
            Tool.ICARUS.run(
                directory,
                with(
                    List.of(
                        "-Wall", "-g2005", "-s", circuit.name(), "-o", circuit.name() + ".vvp"))))
        .isEmpty();
    String script =
        "read_verilog "
            + String.join(" ", files)
            + "; hierarchy -check -top "
            + circuit.name()
            + "; proc; check -assert; select -assert-none t:$dlatch t:$dlatchsr t:$sr";
    assertWithMessage("yosys on %s", circuit)
        .that(Tool.YOSYS.run(directory, List.of("-q", "-p", script)))
        .isEmpty();
  }

  /** Checks what a synthesizer makes of the memories, by commands to it. */
  void checkMemories(String... checks) {
    String script =
        "read_verilog "
            + String.join(" ", files)
            + "; hierarchy -check -top "
            + circuit.name()
            + "; proc; opt; memory -nomap; "
            + String.join("; ", checks);
    assertWithMessage("yosys on the memories of %s", circuit)
        .that(Tool.YOSYS.run(directory, List.of("-q", "-p", script)))
        .isEmpty();
  }

  /** Compiles the text with a test bench and returns what it prints. */
  String simulate(String bench) {
    add("bench.v", bench);
    String compiled =
        Tool.ICARUS.run(
            directory, with(List.of("-Wall", "-g2005", "-s", "bench", "-o", "bench.vvp")));
    assertWithMessage("iverilog on the bench of %s", circuit)
        .that(compiled.lines().filter(line -> !line.contains("timescale")).toList())
        .isEmpty();
    return Tool.ICARUS_RUN.run(directory, List.of("-n", "bench.vvp"));
  }

  private List<String> with(List<String> arguments) {
    List<String> all = new ArrayList<>(arguments);
    all.addAll(files);
    return all;
  }
}

package dev.lengthwise.verilog;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;

/** An outside program that reads what is emitted. */
enum Tool {
  ICARUS("iverilog", "iverilog"),
  ICARUS_RUN("vvp", "iverilog"),
  VERILATOR("verilator", "verilator"),
  YOSYS("yosys", "yosys");

  private final String program;
  private final String debianPackage;

  Tool(String program, String debianPackage) {
    this.program = program;
    this.debianPackage = debianPackage;
  }

  /**
   * Runs the program and returns what it prints; a program that is missing or fails is a failure.
   */
  String run(Path directory, List<String> arguments) {
    List<String> command = new ArrayList<>(List.of(program));
    command.addAll(arguments);
    Process process;
    try {
      process =
          new ProcessBuilder(command)
              .directory(directory.toFile())
              .redirectErrorStream(true)
              .start();
    } catch (IOException e) {
      throw new AssertionError(
          program + " is needed by this test; install the Debian package " + debianPackage, e);
    }
    try {
      process.getOutputStream().close();
      String output = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      if (!process.waitFor(60, TimeUnit.SECONDS) || process.exitValue() != 0) {
        throw new AssertionError(String.join(" ", command) + " failed:\n" + output);
      }
      return output;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    } finally {
      process.destroyForcibly();
    }
  }
}

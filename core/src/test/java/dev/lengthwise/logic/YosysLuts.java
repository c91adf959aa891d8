package dev.lengthwise.logic;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.TimeUnit;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Maps tables with Yosys (Debian package {@code yosys}) by several of its scripts and keeps the
 * best figure of each run, as a yardstick.
 */
final class YosysLuts {

  /**
   * What a script reached.
   *
   * @param script the script
   * @param luts its LUTs
   * @param levels its LUT levels
   */
  record Figure(String script, int luts, int levels) {}

  private static final String FINE = "proc -norom; opt -full; techmap; opt -full; ";

  private static final List<String> SCRIPTS =
      List.of(
          "synth -lut %d",
          "synth -flatten -top top; abc -lut %d",
          "proc; opt -full; memory; opt -full; techmap; opt; abc -lut %d",
          "proc; opt -full; memory; opt -full; techmap; opt;"
              + " abc -lut %d -script +strash;dch,-f;if,-a;mfs2,-a;lutpack,-S,1",
          "proc; opt -full; memory; opt -full; techmap; opt;"
              + " abc -lut %d -script +strash;ifraig;scorr;dc2;dch,-f;if;mfs2;lutpack",
          FINE + "abc -lut %d");

  private YosysLuts() {}

  /** Returns the figure of the script with fewest LUTs, fewest levels among those. */
  static Figure best(TruthTables function, int lutInputs) {
    Figure best = null;
    for (Figure figure : all(function, lutInputs)) {
      if (best == null
          || figure.luts() < best.luts()
          || (figure.luts() == best.luts() && figure.levels() < best.levels())) {
        best = figure;
      }
    }
    return best;
  }

  /** Returns the figure of each script. */
  static List<Figure> all(TruthTables function, int lutInputs) {
    try {
      Path dir = Files.createTempDirectory("yosys-luts");
      try {
        Path source = dir.resolve("table.v");
        Files.writeString(source, verilog(function), UTF_8);
        List<Figure> figures = new ArrayList<>();
        for (String script : SCRIPTS) {
          String asked = String.format(Locale.ROOT, script, lutInputs);
          Path netlist = dir.resolve("out.blif");
          run(dir, "read_verilog table.v; " + asked + "; opt_clean; write_blif out.blif");
          figures.add(read(asked, Files.readString(netlist, UTF_8)));
          Files.delete(netlist);
        }
        return figures;
      } finally {
        try (var files = Files.list(dir)) {
          for (Path file : files.toList()) {
            Files.delete(file);
          }
        }
        Files.delete(dir);
      }
    } catch (IOException e) {
      throw new AssertionError("cannot run yosys: install the package yosys", e);
    }
  }

  private static void run(Path dir, String script) throws IOException {
    Path log = dir.resolve("log.txt");
    Process process =
        new ProcessBuilder("yosys", "-q", "-p", script)
            .directory(dir.toFile())
            .redirectErrorStream(true)
            .redirectOutput(log.toFile())
            .start();
    try {
      if (!process.waitFor(120, TimeUnit.SECONDS) || process.exitValue() != 0) {
        process.destroyForcibly();
        throw new AssertionError(
            "yosys failed on: " + script + "\n" + Files.readString(log, UTF_8));
      }
    } catch (InterruptedException e) {
      throw new AssertionError(e);
    }
  }

  /** Writes the table as a case statement in which don't-cares are x. */
  static String verilog(TruthTables function) {
    int inputs = function.inputs();
    int outputs = function.outputs().size();
    StringBuilder text = new StringBuilder();
    text.append(
        String.format(
            Locale.ROOT,
            "module top(input [%d:0] x, output reg [%d:0] y);%nalways @* case (x)%n",
            inputs - 1,
            outputs - 1));
    for (int p = 0; p < 1 << inputs; p++) {
      StringBuilder value = new StringBuilder();
      for (int o = outputs - 1; o >= 0; o--) {
        TruthTable table = function.outputs().get(o);
        value.append(!table.isCare(p) ? 'x' : table.isOn(p) ? '1' : '0');
      }
      text.append(String.format(Locale.ROOT, "  %d'd%d: y = %d'b%s;%n", inputs, p, outputs, value));
    }
    return text.append("  default: y = 'x;\nendcase\nendmodule\n")
        .toString()
        .replace("'x;", "{" + outputs + "{1'bx}};");
  }

  /**
   * Counts the LUTs of a netlist and their levels; buffers, inverters of none and constants not.
   */
  private static Figure read(String script, String blif) {
    Map<String, Integer> level = new HashMap<>();
    Map<String, String[]> drivers = new HashMap<>();
    int luts = 0;
    Matcher names = Pattern.compile("\\.names ([^\\n]*)\\n((?:[01-][^\\n]*\\n)*)").matcher(blif);
    while (names.find()) {
      String[] pins = names.group(1).trim().split(" ");
      boolean buffer = pins.length == 2 && names.group(2).equals("1 1\n");
      if (pins.length > 1) {
        drivers.put(pins[pins.length - 1], pins);
        if (buffer) {
          pins[pins.length - 1] = null;
        } else {
          luts++;
        }
      }
    }
    int levels = 0;
    for (String signal : List.copyOf(drivers.keySet())) {
      levels = Math.max(levels, level(signal, drivers, level));
    }
    if (luts == 0) {
      throw new AssertionError("yosys wrote a netlist without a LUT for: " + script);
    }
    return new Figure(script, luts, levels);
  }

  private static int level(
      String signal, Map<String, String[]> drivers, Map<String, Integer> known) {
    String[] pins = drivers.get(signal);
    if (pins == null) {
      return 0;
    }
    Integer found = known.get(signal);
    if (found != null) {
      return found;
    }
    int most = 0;
    for (int i = 0; i < pins.length - 1; i++) {
      most = Math.max(most, level(pins[i], drivers, known));
    }
    int own = pins[pins.length - 1] == null ? most : most + 1;
    known.put(signal, own);
    return own;
  }
}

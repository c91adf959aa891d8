package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import javax.tools.JavaCompiler;
import javax.tools.StandardJavaFileManager;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every name that an emitted file uses, as table, mode, map, specifier, lane, row and fetch unit:
 * Icarus Verilog, Verilator and GHDL (Debian packages iverilog, verilator, ghdl) and javac accept
 * what is emitted, without a warning, and a share runs.
 *
 * <p>{@code -Dnames.slice=1/1} tries every name in every role, in over an hour, and {@code 1/2} and
 * {@code 2/2} each half of that; otherwise a share is tried.
 */
@CallsTools
class NameScanTest {

  private static final String SLICE = System.getProperty("names.slice", "");
  private static final int SHARE = 3;
  private static final int GROUP = 24;

  @TempDir Path folder;

  private final List<String> failures = new ArrayList<>();

  /** A design and where its files are. */
  private record Written(Design design, Path tree) {}

  @Test
  void names_ofOurs_areTakenFromUsers() throws Exception {
    List<String> all = ScannedNames.all();
    List<String> modes = all.stream().filter(ScannedDesigns::isMode).toList();
    assertThat(all.size()).isAtLeast(400);
    assertThat(all.size() - modes.size()).isAtMost(48);
    int first = 0;
    int step = Math.max(1, all.size() / SHARE);
    if (!SLICE.isEmpty()) {
      List<String> numbers = List.of(SLICE.split("/", 2));
      first = Integer.parseInt(numbers.get(0)) - 1;
      step = Integer.parseInt(numbers.get(1));
    }
    List<Group> groups = List.of(new Group(), new Group(), new Group());
    int designs = 0;
    for (int number = first; number < all.size(); number += step) {
      List<Design> made = ScannedDesigns.of(number, all, modes);
      for (int kind = 0; kind < made.size(); kind++) {
        Group group = groups.get(kind);
        if (group.isFull(made.get(kind))) {
          check(group, number);
        }
        group.add(made.get(kind), folder.resolve("design" + designs++));
      }
    }
    for (int kind = 0; kind < groups.size(); kind++) {
      check(groups.get(kind), kind);
    }
    System.out.printf(
        "names %d (%d refused as modes); every %dth set of twelve tried: designs %d, failures %d%n",
        all.size(), all.size() - modes.size(), step, designs, failures.size());
    assertWithMessage(String.join("\n", failures)).that(failures.size()).isEqualTo(0);
  }

  /** Lanes, rows or units that are compiled together, as no two blocks of them share a name. */
  private static final class Group {

    private final List<Written> written = new ArrayList<>();
    private final Set<String> blocks = new TreeSet<>();

    private static Set<String> blocks(Design design) {
      Set<String> own = new TreeSet<>(Set.of(design.name() + "_tb"));
      design.circuit().blocks().forEach(block -> own.add(block.name()));
      return own;
    }

    boolean isFull(Design next) {
      return written.size() == GROUP || blocks(next).stream().anyMatch(blocks::contains);
    }

    void add(Design design, Path tree) throws IOException {
      written.add(write(design, tree));
      blocks.addAll(blocks(design));
    }
  }

  /** Compiles a group, runs one of it, and empties it. */
  private void check(Group group, int turn) throws IOException {
    compile(group.written);
    run(group.written.get(turn % group.written.size()), turn);
    group.written.clear();
    group.blocks.clear();
  }

  private static Written write(Design design, Path tree) throws IOException {
    for (OutputFile file : ScannedNames.files(design)) {
      Path path = tree.resolve(file.path());
      Files.createDirectories(path.getParent());
      Files.writeString(path, file.text());
    }
    return new Written(design, tree);
  }

  private void compile(List<Written> group) throws IOException {
    Path work = Files.createDirectories(folder.resolve("work"));
    List<String> icarus = new ArrayList<>(List.of("iverilog", "-g2005", "-Wall", "-t", "null"));
    Map<String, List<String>> ghdl = new LinkedHashMap<>();
    for (String edition : List.of("93", "08")) {
      ghdl.put(edition, new ArrayList<>(List.of("ghdl", "-a", "--std=" + edition)));
    }
    List<Path> java = new ArrayList<>();
    for (Written each : group) {
      WrittenDesign files = WrittenDesign.of(each.tree(), each.design().name());
      icarus.addAll(List.of("-s", files.benchTop(), files.verilogBench()));
      icarus.addAll(files.verilog());
      lint(work, files);
      for (List<String> command : ghdl.values()) {
        command.addAll(files.vhdl());
        command.add(files.vhdlBench());
      }
      try (Stream<Path> paths = Files.walk(each.tree().resolve("java"))) {
        paths.filter(Files::isRegularFile).forEach(java::add);
      }
    }
    quiet("iverilog", work, icarus);
    for (List<String> command : ghdl.values()) {
      quiet("ghdl", Files.createTempDirectory(folder, "ghdl"), command);
    }
    compileJava(java);
  }

  /** Alone, as Verilator gives the ports of several outermost blocks one scope. */
  private void lint(Path work, WrittenDesign files) {
    List<String> rtl = new ArrayList<>(List.of("verilator", "--lint-only", "-Wall"));
    rtl.addAll(files.verilog());
    quiet("verilator", work, rtl);
    List<String> bench = new ArrayList<>(List.of("verilator", "--lint-only", "--timing"));
    bench.addAll(List.of("--top-module", files.benchTop(), files.verilogBench()));
    bench.addAll(files.verilog());
    quiet("verilator", work, bench);
  }

  private void quiet(String debianPackage, Path work, List<String> command) {
    ToolRun run = ToolRun.of(debianPackage, work, 600, command);
    if (run.status() != 0 || !run.output().isEmpty()) {
      failures.add(command + ": status " + run.status() + "\n" + run.output());
    }
  }

  private void compileJava(List<Path> sources) throws IOException {
    JavaCompiler compiler = ToolProvider.getSystemJavaCompiler();
    Map<String, Path> distinct = new LinkedHashMap<>();
    sources.forEach(s -> distinct.put(s.getParent().getFileName() + "/" + s.getFileName(), s));
    try (StandardJavaFileManager files = compiler.getStandardFileManager(null, null, null)) {
      List<String> options =
          List.of("-proc:none", "-Xlint:all", "-Werror", "-d", folder.resolve("work").toString());
      boolean compiled =
          compiler
              .getTask(
                  null,
                  files,
                  null,
                  options,
                  null,
                  files.getJavaFileObjectsFromPaths(distinct.values()))
              .call();
      assertWithMessage("javac of %s", distinct.values()).that(compiled).isTrue();
    }
  }

  /** Runs a bench in one of the simulators, which turn. */
  private static void run(Written written, int turn) {
    List<Simulator> simulators =
        List.of(
            new IcarusVerilog(),
            new Ghdl(Ghdl.Edition.IEEE_1993),
            new IcarusVerilog(),
            new Ghdl(Ghdl.Edition.IEEE_2008));
    Simulator simulator = simulators.get(turn % simulators.size());
    SimulationResult result = simulator.run(written.tree(), written.design().name());
    assertWithMessage("%s of %s: %s", simulator.name(), written, result.output())
        .that(result.passed())
        .isTrue();
  }
}

package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Fetch units of 24 combinations against their golden model: 100,000 random cycles each in
 * Verilator, 1,500 in Icarus Verilog and in GHDL, and the texts through the linters of all (Debian
 * packages verilator, g++, make, iverilog, ghdl, yosys).
 *
 * <p>About 170 seconds of processor time, half of it for compiling Verilator's C++, on two threads.
 */
@CallsTools
class FetchUnitsTest {

  private static final int CYCLES = 100_000;
  private static final int FEW_CYCLES = 1_500;
  private static final int THREADS = 2;

  @TempDir Path tree;

  @Test
  void everyUnit_everySimulator_equalsTheModelWithoutWarnings() throws Exception {
    List<FetchUnit> units = FetchUnits.all();
    assertThat(units).hasSize(24);
    ExecutorService threads = Executors.newFixedThreadPool(THREADS);
    List<Future<Void>> parts = new ArrayList<>();
    for (int part = 0; part < THREADS; part++) {
      Part work = new Part(tree.resolve("part_" + part));
      for (int unit = part; unit < units.size(); unit += THREADS) {
        work.units.add(units.get(unit));
      }
      parts.add(threads.submit(work::check));
    }
    threads.shutdown();
    for (Future<Void> part : parts) {
      part.get();
    }
  }

  /** A share of the units. */
  private static final class Part {

    private final Path folder;
    private final Path few;
    private final List<FetchUnit> units = new ArrayList<>();

    Part(Path folder) {
      this.folder = folder;
      this.few = folder.resolve("few");
    }

    Void check() throws IOException {
      for (FetchUnit unit : units) {
        Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(unit, Style.ROM);
        OutputTree.at(folder).add(new Verilog()).add(new Testbenches(CYCLES, 5)).write(design);
        OutputTree.at(few)
            .add(new Verilog())
            .add(new Vhdl())
            .add(new Testbenches(FEW_CYCLES, 6))
            .write(design);
        lint(unit);
        passes(unit, new IcarusVerilog());
        passes(unit, new Ghdl(Ghdl.Edition.IEEE_1993));
        passes(unit, new Ghdl(Ghdl.Edition.IEEE_2008));
      }
      verilate();
      return null;
    }

    private void passes(FetchUnit unit, Simulator simulator) {
      SimulationResult result = simulator.run(few, unit.name());
      assertWithMessage("%s of %s: %s", simulator.name(), unit, result.output())
          .that(result.passed())
          .isTrue();
      assertThat(result.vectors()).isEqualTo(FEW_CYCLES);
      assertWithMessage(result.output()).that(result.output()).doesNotContain("arning");
      assertWithMessage("%s of %s", simulator.name(), unit)
          .that(result.output())
          .doesNotContain("assertion");
    }

    private void lint(FetchUnit unit) {
      WrittenDesign written = WrittenDesign.of(few, unit.name());
      List<String> verilator = new ArrayList<>();
      verilator.addAll(List.of("verilator", "--lint-only", "-Wall", "--language", "1364-2005"));
      verilator.addAll(List.of("--top-module", unit.name()));
      verilator.addAll(written.verilog());
      silent("verilator", verilator);
      String script =
          "read_verilog %s; hierarchy -check -top %s; proc; check -assert;"
                  .formatted(String.join(" ", written.verilog()), unit.name())
              + " select -assert-none t:$dlatch t:$adlatch t:$dlatchsr t:$sr";
      silent("yosys", List.of("yosys", "-q", "-p", script));
    }

    private void silent(String debianPackage, List<String> command) {
      ToolRun run = ToolRun.of(debianPackage, folder, 600, command);
      assertWithMessage("%s", command).that(run.output()).isEmpty();
      assertThat(run.status()).isEqualTo(0);
    }

    /** One program for all benches, as most of its compiling is the same for each. */
    private void verilate() throws IOException {
      Path benches = folder.resolve("bench/verilog");
      StringBuilder top = new StringBuilder("module all_tb;\n");
      Set<String> files = new LinkedHashSet<>();
      for (FetchUnit unit : units) {
        WrittenDesign written = WrittenDesign.of(folder, unit.name());
        Path bench = Path.of(written.verilogBench());
        String text = Files.readString(bench);
        // All benches run side by side, so none may end the others when it has passed.
        assertThat(text).contains("    $finish;\n");
        Files.writeString(bench, text.replace("    $finish;\n", ""));
        files.addAll(written.verilog());
        files.add(bench.toString());
        top.append("  %1$s_tb %1$s_run();\n".formatted(unit.name()));
      }
      Path all = benches.resolve("all_tb.v");
      Files.writeString(all, top.append("endmodule\n"));
      List<String> compile = new ArrayList<>();
      compile.addAll(List.of("verilator", "--binary", "-O3", "--x-initial", "unique"));
      for (String option : List.of("OPT_GLOBAL=-O0", "OPT_FAST=-O0", "OPT_SLOW=-O0")) {
        compile.addAll(List.of("-MAKEFLAGS", option));
      }
      compile.addAll(List.of("--Mdir", "model", "--top-module", "all_tb", "-o", "bench"));
      compile.add(all.toString());
      compile.addAll(files);
      ToolRun compiled = ToolRun.of("verilator", benches, 600, compile);
      assertWithMessage(compiled.output()).that(compiled.status()).isEqualTo(0);
      String program = benches.resolve("model/bench").toString();
      ToolRun run = ToolRun.of("verilator", benches, 600, List.of(program));
      assertWithMessage(run.output()).that(run.status()).isEqualTo(0);
      for (FetchUnit unit : units) {
        assertThat(run.output()).contains("PASS " + unit.name() + "\n");
      }
      assertThat(run.output().lines().filter(line -> line.equals("vectors: " + CYCLES)).count())
          .isEqualTo(units.size());
      for (String never : List.of("evictions: 0", "flushes: 0", "mismatch at", "FAIL")) {
        assertWithMessage(run.output()).that(run.output()).doesNotContain(never);
      }
    }
  }
}

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
import dev.lengthwise.testbench.run.Verilator;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Fetch units of 24 combinations against their golden model: 100,000 random cycles each in
 * Verilator, 1,500 in Icarus Verilog and in both editions of GHDL, and the texts through the
 * linters of all (Debian packages verilator, g++, make, iverilog, ghdl, yosys).
 *
 * <p>Every build runs two units of five in Icarus Verilog and through the linters, and in GHDL by
 * the one edition or the other; Verilator runs a fifth of the cycles of half of those. In both
 * shares every place of tags, place of pre-decode and replacement is met.
 */
@CallsTools
class FetchUnitsTest {

  private static final int CYCLES = Extent.of(20_000, 100_000);
  private static final int FEW_CYCLES = 1_500;
  private static final int VERILATED = Extent.of(5, 1);
  private static final int THREADS = 2;

  @TempDir Path tree;

  @Test
  void everyUnit_everySimulator_equalsTheModelWithoutWarnings() throws Exception {
    List<FetchUnit> units = FetchUnits.all();
    assertThat(units).hasSize(24);
    int[] numbers = IntStream.range(0, 24).filter(FetchUnitsTest::isChecked).toArray();
    assertThat(numbers).hasLength(Extent.of(10, 24));
    ExecutorService threads = Executors.newFixedThreadPool(THREADS);
    List<Future<Void>> parts = new ArrayList<>();
    for (int part = 0; part < THREADS; part++) {
      Part work = new Part(tree.resolve("part_" + part));
      for (int i = part; i < numbers.length; i += THREADS) {
        work.units.put(numbers[i], units.get(numbers[i]));
      }
      parts.add(threads.submit(work::check));
    }
    threads.shutdown();
    for (Future<Void> part : parts) {
      part.get();
    }
  }

  /** Two of five, which have each place and order of each thing that units differ in. */
  private static boolean isChecked(int number) {
    return Extent.isWhole() || number % 5 == 0 || number % 5 == 2;
  }

  /** A share of the units. */
  private static final class Part {

    private final Path folder;
    private final Path few;
    private final Map<Integer, FetchUnit> units = new TreeMap<>();

    Part(Path folder) {
      this.folder = folder;
      this.few = folder.resolve("few");
    }

    Void check() {
      for (Map.Entry<Integer, FetchUnit> each : units.entrySet()) {
        int number = each.getKey();
        FetchUnit unit = each.getValue();
        Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(unit, Style.ROM);
        OutputTree.at(few)
            .add(new Verilog())
            .add(new Vhdl())
            .add(new Testbenches(FEW_CYCLES, 6))
            .write(design);
        lint(unit);
        passes(unit, new IcarusVerilog());
        List<Ghdl.Edition> editions = List.of(Ghdl.Edition.values());
        for (Ghdl.Edition edition :
            Extent.isWhole() ? editions : List.of(editions.get(number / 2 % 2))) {
          passes(unit, new Ghdl(edition));
        }
        if (number % VERILATED == 0) {
          OutputTree.at(folder).add(new Verilog()).add(new Testbenches(CYCLES, 5)).write(design);
          verilate(unit);
        }
      }
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

    private void verilate(FetchUnit unit) {
      SimulationResult result = new Verilator().run(folder, unit.name());
      assertWithMessage("%s: %s", unit, result.output()).that(result.passed()).isTrue();
      assertThat(result.vectors()).isEqualTo(CYCLES);
      for (String never : List.of("evictions: 0", "flushes: 0")) {
        assertWithMessage("%s", unit).that(result.output()).doesNotContain(never);
      }
    }
  }
}

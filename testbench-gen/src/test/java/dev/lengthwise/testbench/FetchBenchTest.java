package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Benches of fetch units in every simulator (Debian packages iverilog, verilator, g++, ghdl). */
class FetchBenchTest {

  @TempDir Path tree;

  static List<Simulator> simulators() {
    return SimulatorsTest.simulators();
  }

  private static Design design() {
    LaneArray row =
        LaneArray.of(Predecoder.of(Samples.bytes()).build(), 8)
            .cut(PipelineCut.AFTER_LANES)
            .build();
    CacheGeometry geometry = new CacheGeometry(512, 4, 16, 16, 8);
    InstructionCache cache = InstructionCache.named("cache", geometry).build();
    return Realizer.on(DeviceProfile.sixInputDualOutput())
        .realize(FetchUnit.of("sample_fetch", cache, row), Style.ROM);
  }

  private Design write(int cycles) {
    Design design = design();
    OutputTree.at(tree)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(cycles, 5))
        .write(design);
    return design;
  }

  @ParameterizedTest
  @MethodSource("simulators")
  void run_randomCycles_passesAndReports(Simulator simulator) {
    Design design = write(3000);
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.vectors()).isEqualTo(3000);
    for (String count : List.of("redirects", "stalls", "flushes", "hits", "misses", "evictions")) {
      assertThat(result.output()).contains("  " + count + ": ");
      assertThat(result.output()).doesNotContain("  " + count + ": 0");
    }
  }
}

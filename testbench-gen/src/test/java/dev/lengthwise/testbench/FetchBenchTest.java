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
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** Benches of fetch units in every simulator (Debian packages iverilog, verilator, g++, ghdl). */
@CallsTools
class FetchBenchTest {

  private static final int FAULTY_CYCLES = 6000;

  @TempDir Path tree;

  static List<Simulator> simulators() {
    return SimulatorsTest.simulators();
  }

  private static Design design(InstructionSet set) {
    LaneArray row =
        LaneArray.builder(Predecoder.builder(set).build(), 8).cut(PipelineCut.AFTER_LANES).build();
    CacheGeometry geometry = new CacheGeometry(512, 4, 16, 16, 8);
    InstructionCache cache = InstructionCache.named("cache", geometry).build();
    return Realizer.on(DeviceProfile.sixInputDualOutput())
        .realize(FetchUnit.of("sample_fetch", cache, row), Style.ROM);
  }

  private Design write(InstructionSet set, int cycles) {
    Design design = design(set);
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
    Design design = write(FetchUnits.set(), 3000);
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.vectors()).isEqualTo(3000);
    for (String count : List.of("redirects", "stalls", "flushes", "hits", "misses", "evictions")) {
      assertThat(result.output()).contains("  " + count + ": ");
      assertThat(result.output()).doesNotContain("  " + count + ": 0");
    }
  }

  /** Nothing is counted during reset, when signals may be unknown. */
  @Test
  void run_everySimulator_countsTheSame() {
    Design design = write(FetchUnits.set(), 400);
    List<String> first = null;
    for (Simulator simulator : simulators()) {
      List<String> counts =
          simulator
              .run(tree, design.name())
              .output()
              .lines()
              .filter(line -> line.startsWith("  "))
              .toList();
      assertThat(counts).hasSize(7);
      for (String count : counts) {
        assertThat(count).matches("  [a-z ]+: [0-9]+");
      }
      first = first == null ? counts : first;
      assertWithMessage(simulator.name()).that(counts).isEqualTo(first);
    }
  }

  /** A fault: the file's name behind the unit's, what is replaced, and by what. */
  private record Fault(String file, String from, String to) {}

  private static final List<Fault> FAULTS =
      List.of(
          new Fault("_cache", "asked_busy <= line_fill_filling;", "asked_busy <= 1'b0;"),
          new Fault("_cache", "valid_lines_valid | line_fill_present_ways", "valid_lines_valid"),
          new Fault("_cache", "<= ~redirect & ~flush_taken &", "<= ~flush_taken &"),
          new Fault("_cache", "<= ~redirect & ~flush_taken &", "<= ~redirect &"),
          new Fault("_cache", "flush_looked & flush_whole;", "1'b0;"),
          new Fault("_cache", "flush_looked & ~flush_whole;", "1'b0;"),
          new Fault("_cache", "if (~(flush_pending & ~flush_looked))", "if (1'b1)"),
          new Fault("_cache", "offered | window_ready", "offered"),
          new Fault("_cache", "asked_fresh <= moves;", "asked_fresh <= 1'b1;"),
          new Fault("_fill", "active & ~asking & beat_valid", "active & beat_valid"),
          new Fault(
              "_fill", "last_window = beat_taken & (&arrived_now)", "last_window = beat_taken"),
          new Fault("_replacement", "if (start | hit)", "if (start)"),
          new Fault("_compare", "hit_1 = &same_1", "hit_1 = &same_1[1:0]"),
          new Fault("", "lanes_live <= ~redirect;", "lanes_live <= 1'b1;"));

  @Test
  void run_anyFault_fails() throws IOException {
    Design design = write(FetchUnits.set(), FAULTY_CYCLES);
    for (Fault fault : FAULTS) {
      assertFails(design, fault);
    }
  }

  /** Only rows that look far ahead make windows wait so that this shows. */
  @Test
  void run_flushedWindowNotLookedUpAgain_fails() throws IOException {
    assertFails(
        write(SampleSets.bytes(), FAULTY_CYCLES),
        new Fault("_cache", "look_again | (flush_taken & ~moves)", "look_again"));
  }

  /** In the text such a word is X, so that any use of it shows. */
  @Test
  void run_wordsReadInTheCycleThatWritesThem_happenAndAreNotUsed() throws IOException {
    Design design = write(FetchUnits.set(), FAULTY_CYCLES);
    for (String ram : List.of("data", "tags")) {
      Path file = tree.resolve("verilog/" + design.name() + "_" + ram + ".v");
      String text = Files.readString(file);
      String address = ram.equals("data") ? "place" : "index";
      String happens = "write && write_" + address + " == " + address;
      assertThat(text).contains("(" + happens + ") ? ");
      String told =
          "always @(posedge clock) if (read && %s) $display(\"collision in %s\");\nendmodule"
              .formatted(happens, ram);
      Files.writeString(file, text.replace("endmodule", told));
    }
    SimulationResult result = new IcarusVerilog().run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.output()).contains("collision in data");
    assertThat(result.output()).contains("collision in tags");
  }

  private void assertFails(Design design, Fault fault) throws IOException {
    Path file = tree.resolve("verilog/" + design.name() + fault.file() + ".v");
    String text = Files.readString(file);
    String broken = text.replace(fault.from(), fault.to());
    assertWithMessage("%s in%n%s", fault, text).that(broken).isNotEqualTo(text);
    Files.writeString(file, broken);
    SimulationResult result = new IcarusVerilog().run(tree, design.name());
    Files.writeString(file, text);
    assertWithMessage("%s passed", fault).that(result.passed()).isFalse();
    assertWithMessage("%s: %s", fault, result.output())
        .that(result.vectors())
        .isEqualTo(FAULTY_CYCLES);
    assertThat(result.mismatches()).isGreaterThan(0);
  }
}

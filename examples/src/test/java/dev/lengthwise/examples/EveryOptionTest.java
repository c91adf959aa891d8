package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.testing.Slow;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;

/**
 * Runs every example with every option that its {@code --help} lists, in a process of its own
 * (Debian packages iverilog, yosys and nextpnr-ice40, which the examples call). An option that no
 * run here has is a failure: add it to one. Where the set does not matter, it is the small one of
 * {@link SluiceSet}. Those of the studies are in {@link StudyOptionsTest}.
 */
@Slow
class EveryOptionTest extends OptionRuns {

  @Override
  boolean covers(String example) {
    return !StudyOptionsTest.EXAMPLES.contains(example);
  }

  @Test
  void quickstart() throws Exception {
    String out = run("quickstart", "--set", "tidegate", "--style", "ROM", "--out", "q").out();
    assertThat(out).contains("36656  all agree");
    assertThat(out).contains("10000 cycles of random code, all agree");
    assertFiles("q", "verilog/tidegate_lane.f", "vhdl/tidegate_lane.vhd", "cost.csv");
    assertFiles("q", "bench/vectors/tidegate_lane.hex", "java/tidegate/TidegateLaneModel.java");
    assertFiles("q", "row/verilog/tidegate_fetch.f", "row/bench/verilog/tidegate_fetch_tb.v");
  }

  @Test
  void ia32() throws Exception {
    String code = SmallCode.raw(folder, "ia32.bin", 3).toString();
    String out =
        run(
                "ia32",
                "--set",
                "ia32",
                "--image",
                code,
                "--raw",
                "--code16",
                "--with",
                "EVEX,SSE4A",
                "--style",
                "ROM",
                "--out",
                "i")
            .out();
    assertThat(out).contains("read as 16-bit IA-32 code");
    assertFiles("i", "verilog/ia32_lane.f", "vhdl/ia32_lane.vhd", "cost.csv");
  }

  @Test
  void mapping() throws Exception {
    Path table = Files.writeString(folder.resolve("and.txt"), "inputs 2 outputs 1\n0001\n");
    String out =
        run(
                "mapping",
                "--table",
                table.toString(),
                "--only",
                "table",
                "--thorough",
                "--explain",
                "--bits",
                "--out",
                "m")
            .out();
    assertThat(out).contains("table in LUTs of 6 inputs");
    assertThat(out)
        .contains(
            """
            bits of table
              input 0 is removable but for 0x2 and 0x3
              input 1 is removable but for 0x1 and 0x3
              smallest sets of inputs: 0x3
              alike: 0~1
              may be permuted freely: 0x3
            """);
    List<String> lines = Files.readAllLines(folder.resolve("m/mapping.csv"));
    assertThat(lines.get(1)).matches("table,6,1,1,1,1,1,[0-9.]+,true");
    assertThat(lines.get(2)).matches("table,4,1,1,1,1,1,[0-9.]+,true");
    assertThat(lines).hasSize(3);
    String suite =
        run(
                "mapping",
                "--suite",
                "--stored-tool",
                "--only",
                "present_sbox",
                "--record",
                "9999",
                "--tool-levels",
                "--out",
                "v")
            .out();
    assertThat(suite).contains("present_sbox_in_1_levels");
    assertThat(suite)
        .contains(
            "in all: 8 LUTs, Yosys 8, ratio 1.000; more than Yosys in 0 of 2; levels not met in 0");
    assertThat(Files.readString(folder.resolve("v/suite.csv")))
        .endsWith(
            """
            9999,present_sbox,6,quick,1,4,1,4,1,4,each output takes a LUT of its own so the least
            9999,present_sbox,4,quick,1,4,1,4,1,4,each output takes a LUT of its own so the least
            """);
    // The comparison with Yosys is run above.
    String timed =
        runOnPath(
                "/nowhere",
                "mapping",
                "--set",
                "sluice",
                "--seconds",
                "1",
                "--explain",
                "--out",
                "r")
            .out();
    assertThat(timed).contains("sluice_lane, first: ");
    assertThat(timed).contains(" of new starts, until the time was over");
    assertThat(Files.readAllLines(folder.resolve("r/mapping.csv")).get(1))
        .startsWith("sluice_lane,6,");
  }

  @Test
  void lanes() throws Exception {
    String out =
        run(
                "lanes",
                "--set",
                "SLUICE",
                "--style",
                "BANKED",
                "--windows",
                "4",
                "--levels-per-cycle",
                "2,3",
                "--tool-rows",
                "--tool-limit",
                "20",
                "--out",
                "l")
            .out();
    assertThat(out).contains("sluice");
    assertThat(out).containsMatch("Yosys, a lane alone in style rom: [0-9]+ LUTs");
    List<String> lines = Files.readAllLines(folder.resolve("l/lanes.csv"));
    // A head, four markings behind each cut, and two by entry.
    assertThat(lines).hasSize(1 + 16 + 2);
    assertThat(lines.get(17)).contains(",by_entry_2_levels_of_lut6,none,");
    assertThat(lines.get(18)).contains(",by_entry_3_levels_of_lut6,none,");
    long columns = lines.get(0).chars().filter(c -> c == ',').count();
    lines.forEach(
        line -> assertThat(line.chars().filter(c -> c == ',').count()).isEqualTo(columns));
  }

  @Test
  void fetchUnit() throws Exception {
    String out =
        run(
                "fetch-unit",
                "--set",
                "tidegate",
                "--capacity",
                "256",
                "--ways",
                "2",
                "--line",
                "16",
                "--address",
                "16",
                "--tags",
                "BLOCK_RAM",
                "--replacement",
                "LRU",
                "--predecode",
                "PER_WAY",
                "--fill",
                "IN_ORDER",
                "--cycles",
                "300",
                "--out",
                "f")
            .out();
    assertThat(out).contains("built-in simulator: 300 random cycles, all agree");
    assertThat(out).contains("Icarus Verilog: 300 random cycles, all agree");
    assertFiles("f", "verilog/tidegate_fetch_unit.f", "paths.csv", "ram_fit.csv");
  }

  @Test
  void timing() throws Exception {
    String[] call = {
      "timing",
      "--set",
      "sluice",
      "--only",
      "sluice",
      "--style",
      "ROM",
      "--seeds",
      "1",
      "--fewer-levels",
      "0",
      "--out",
      "t"
    };
    String out = run(call).out();
    assertThat(out).containsMatch("sluice +rom +plain +[0-9]+ +[0-9]+ +[0-9]+ +0 ");
    assertFiles("t", "timing.svg", "trials/sluice_rom/verilog/sluice_lane_timing.v");
    List<String> lines = Files.readAllLines(folder.resolve("t/timing.csv"));
    assertThat(lines).hasSize(5);
    assertThat(lines.get(3)).startsWith("sluice,rom,4,");
    assertThat(lines.get(3)).contains(",1,no_carry,text=");
    // A second run finds the rows, and writes the same file.
    assertThat(run(call).out()).isEqualTo(out);
    assertThat(Files.readAllLines(folder.resolve("t/timing.csv"))).isEqualTo(lines);
    String[] drawn = {
      "timing", "--calibration", "--only", "drawn_4_bits_rom", "--seeds", "1", "--out", "d"
    };
    assertThat(run(drawn).out()).containsMatch("drawn_4_bits_rom +rom +plain +1 +[1-3] +[1-3] +0 ");
    ExampleRun.Result none =
        ExampleRun.startOnPath("/nowhere", folder, "timing", "--out", "n").result();
    assertThat(none.status()).isEqualTo(1);
    assertThat(none.hasStack()).isFalse();
    assertThat(none.err())
        .startsWith("yosys: the program must be installed (Debian package yosys), found ");
  }
}

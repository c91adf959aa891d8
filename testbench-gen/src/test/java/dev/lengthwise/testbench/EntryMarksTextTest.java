package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Emitted rows with marks by entry: all linters, benches in every simulator and a proof of every
 * block in both languages (Debian packages iverilog, verilator, g++, ghdl and yosys); and a fault
 * in each kind of register, which the bench must find.
 */
@CallsTools
class EntryMarksTextTest {

  @TempDir Path tree;

  /** One late mode, the state of which is shared. */
  private static Predecoder flipping() {
    return Predecoder.builder(SampleSets.bytes())
        .prefixes(PrefixTreatment.NOT_HANDLED)
        .prefix(0xf0, PrefixTreatment.ONE_UNIT_EACH)
        .build();
  }

  static List<LaneArray> rows() {
    Predecoder whole = Predecoder.builder(SampleSets.bytes()).build();
    return List.of(
        LaneArray.builder(flipping(), 8).marking(Marking.byEntry(2, 4)).build(),
        LaneArray.builder(whole, 5)
            .marking(Marking.byEntry(2, 6))
            .end(WindowEnd.NOT_HANDLED)
            .build());
  }

  private static Design realize(LaneArray row) {
    return Realizer.on(DeviceProfile.sixInputDualOutput()).realize(row, Style.ROM);
  }

  @ParameterizedTest
  @MethodSource("rows")
  void pass_row_everyCheck(LaneArray row) {
    EmittedChecks.pass(realize(row), tree, 1, SimulatorsTest.simulators());
  }

  /** Registers that lose what they should take: of each kind one, by the beginning of its name. */
  @ParameterizedTest
  @ValueSource(
      strings = {
        "entry",
        "exit_of_entry_0",
        "exit_of_entry_0_in_cycle_",
        "taken_exit_in_cycle_",
        "is_idle_in_cycle_",
        "exit_at_3",
        "length_at_3_in_cycle_",
        "lane_length_2_in_cycle_",
        "initial_word_in_cycle_",
        "exit_of_0_from_4_over_2_in_cycle_",
        "exit_of_1_from_0_over_8_starts_in_cycle_",
        "ended_in_prefix",
        "ends_in_prefix_in_cycle_",
        "is_prefix_2_in_cycle_",
        "was_redirected",
        "is_fresh_in_cycle_",
        "redirects_in_cycle_",
        "offset_in_cycle_",
        "is_below_2_in_cycle_",
        "shows_3_in_cycle_",
        "valid_in_cycle_",
        "starts_in_cycle_",
        "shown_starts_in_cycle_",
        "has_no_exit_in_cycle_",
        "shown_carry_in_cycle_",
        "shown_waiting_in_cycle_",
        "last_in_4_high_in_cycle_"
      })
  void run_registerThatKeepsItsValue_fails(String register) throws IOException {
    Design design = realize(rows().get(0));
    OutputTree.at(tree).add(new Verilog()).add(new Testbenches(3000, 5)).write(design);
    Path file = tree.resolve("verilog/sample_lanes_marks.v");
    String text = Files.readString(file);
    Matcher place =
        Pattern.compile("^      (" + register + "[0-9]*) <= [^;]*;", Pattern.MULTILINE)
            .matcher(text);
    String broken = "";
    while (place.find()) {
      boolean resets = place.group().matches("(?s).*<= [0-9]+'h?b?[0-9a-f]+;");
      if (!resets) {
        broken =
            text.substring(0, place.start())
                + "      "
                + place.group(1)
                + " <= "
                + place.group(1)
                + ";"
                + text.substring(place.end());
      }
    }
    assertWithMessage("%s in %s", register, text).that(broken).isNotEmpty();
    Files.writeString(file, broken);
    SimulationResult result = new IcarusVerilog().run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isFalse();
    assertThat(result.mismatches()).isGreaterThan(0);
  }
}

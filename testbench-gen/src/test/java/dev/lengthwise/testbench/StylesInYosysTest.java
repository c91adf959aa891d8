package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.yardstick.Yosys;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Tool;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.verilog.VerilogOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The emitted styles of one lane against each other, in Yosys (Debian package yosys). */
@CallsTools
class StylesInYosysTest {

  private static final int SECONDS = 200;

  /** Each made once, as mapping takes its time. */
  private static final Map<Style, Design> MADE = new ConcurrentHashMap<>();

  @TempDir Path folder;

  /** Every point is a care point, so that the styles must be the same everywhere. */
  private static Design design(Style style) {
    Predecoder lane =
        Predecoder.builder(SampleSets.bytes()).undefinedRows(UndefinedRows.NOT_HANDLED).build();
    return MADE.computeIfAbsent(
        style, key -> Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, key));
  }

  private EmittedTree write(Design design) {
    return write(design, VerilogOptions.standard());
  }

  private EmittedTree write(Design design, VerilogOptions options) {
    Path tree = folder.resolve(design.style().label());
    OutputTree.at(tree).add(new Verilog(options)).write(design);
    return new EmittedTree(tree, design.name());
  }

  private String yosys(String script) {
    return Tool.named("yosys", "yosys").runIn(folder, SECONDS, "-p", script);
  }

  private static String read(EmittedTree tree) {
    return "read_verilog %s; hierarchy -check -top %s; "
            .formatted(String.join(" ", tree.verilog()), tree.top())
        + "setattr -mod -unset keep_hierarchy *; proc; flatten; opt -full; memory; opt -full; techmap; opt; abc -g simple; opt_clean; ";
  }

  /** Proves that no input tells two lanes apart. */
  private void prove(EmittedTree gold, EmittedTree gate) {
    yosys(
        read(gold)
            + ("rename " + gold.top() + " gold; design -stash gold; ")
            + read(gate)
            + ("rename " + gate.top() + " gate; design -copy-from gold -as gold gold; ")
            + "miter -equiv -flatten -make_outputs gold gate miter; hierarchy -top miter; "
            + "opt_clean; sat -verify -prove trigger 0 -show-inputs miter");
  }

  @ParameterizedTest
  @EnumSource(
      value = Style.class,
      names = {"BANKED", "LUT_NETWORK"})
  void verilog_style_isTheSameAsTheRom(Style style) {
    prove(write(design(Style.ROM)), write(design(style)));
  }

  @Test
  void verilog_oneLutBitFlipped_isNotTheSame() throws IOException {
    EmittedTree rom = write(design(Style.ROM));
    EmittedTree network = write(design(Style.LUT_NETWORK));
    Path file = Path.of(network.verilog().get(network.verilog().size() - 1));
    String text = Files.readString(file);
    // Of the last LUT, which drives an output. Some points of it may be reached by no input.
    Matcher table = Pattern.compile("64'h([0-9a-f]{16})\\)").matcher(text);
    int at = -1;
    while (table.find()) {
      at = table.start(1);
    }
    long bits = Long.parseUnsignedLong(text.substring(at, at + 16), 16);
    boolean caught = false;
    for (int bit = 0; bit < 64 && !caught; bit += 9) {
      String flipped = String.format(Locale.ROOT, "%016x", bits ^ 1L << bit);
      Files.writeString(file, text.substring(0, at) + flipped + text.substring(at + 16));
      caught = isToldApart(rom, network);
    }
    assertThat(caught).isTrue();
  }

  private boolean isToldApart(EmittedTree gold, EmittedTree gate) {
    try {
      prove(gold, gate);
      return false;
    } catch (AssertionError error) {
      assertThat(error).hasMessageThat().contains("proof did fail");
      return true;
    }
  }

  @Test
  void verilog_networkMappedAnew_takesNoMoreLutsThanClaimed() throws IOException {
    Design design = design(Style.LUT_NETWORK);
    StringBuilder text = new StringBuilder();
    // Instances would be kept.
    VerilogOptions options = VerilogOptions.standard().withLut(new VerilogOptions.LutAssignment());
    for (String file : write(design, options).verilog()) {
      text.append(Files.readString(Path.of(file)));
    }
    int lutInputs = design.device().lutInputs();
    assertThat(new Yosys().best(List.of(text.toString()), lutInputs).luts())
        .isAtMost(design.total().luts());
  }
}

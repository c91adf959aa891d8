package dev.lengthwise.testbench.yardstick;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.SampleSets;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The text that a tool is measured on is the function, as Icarus Verilog runs it. */
@CallsTools
class BehaviouralVerilogTest {

  @TempDir Path folder;

  @Test
  void of_lanes_isTheShapesFunction() throws IOException {
    InstructionSet set = SampleSets.bytes();
    for (UndefinedRows undefined : UndefinedRows.values()) {
      Predecoder lane = Predecoder.builder(set).undefinedRows(undefined).longest(8).build();
      check(LaneFunctions.of(LaneTable.of(lane, 0)), 20_000);
    }
  }

  @Test
  void of_tables_writesDigits() {
    String text = BehaviouralVerilog.of(TruthTables.parse("inputs 1 outputs 2\n01\n-1\n"));
    assertThat(text.lines().map(String::strip))
        .containsAtLeast("1'd0: y = 2'bx0;", "1'd1: y = 2'b11;");
  }

  private void check(LaneFunction shape, int points) throws IOException {
    Random random = new Random(7);
    StringBuilder bench = new StringBuilder("module bench;\n");
    int inputs = 8 * shape.bytes();
    int modes = shape.modes().size();
    bench.append(
        "reg [%d:0] in; reg [%d:0] modes; wire [%d:0] length;\n"
            .formatted(inputs - 1, modes - 1, shape.lengthBits() - 1));
    bench.append("top dut(");
    for (int at = 0; at < shape.bytes(); at++) {
      bench.append("in[%d:%d], ".formatted(8 * at + 7, 8 * at));
    }
    bench.append("modes, length);\nreg [127:0] v [0:%d]; integer i;\n".formatted(points - 1));
    bench.append(
        "initial begin $readmemh(\"v.hex\", v); for (i = 0; i < %d; i = i + 1) begin\n"
            .formatted(points));
    bench.append("{modes, in} = v[i] >> 8; #1 if (v[i][7:0] != 255 && length !== v[i][7:0])\n");
    bench.append("$display(\"wrong at %h\", v[i]); end $display(\"done\"); end endmodule\n");
    StringBuilder vectors = new StringBuilder();
    int known = 0;
    int[] window = new int[shape.bytes()];
    for (int i = 0; i < points; i++) {
      Arrays.setAll(window, at -> random.nextInt(256));
      if (i % 2 == 0) { // a quarter of the maps deeper than the first
        window[0] = List.of(0x0f, 0x30, 0x31).get(random.nextInt(3));
      }
      int word = random.nextInt(shape.modeWords());
      int length = shape.length(window, word);
      known += length > 0 ? 1 : 0;
      StringBuilder hex = new StringBuilder("%x".formatted(word));
      for (int at = window.length - 1; at >= 0; at--) {
        hex.append("%02x".formatted(window[at]));
      }
      vectors
          .append(hex)
          .append("%02x\n".formatted(length == LaneFunction.ANYTHING ? 255 : length));
    }
    assertThat(known).isAtLeast(points / 20);
    Files.writeString(folder.resolve("v.hex"), vectors);
    Files.writeString(folder.resolve("t.v"), BehaviouralVerilog.of(shape) + bench);
    ToolRun compiled =
        ToolRun.of("iverilog", folder, 60, List.of("iverilog", "-g2005", "-o", "t.vvp", "t.v"));
    assertThat(compiled.output()).isEmpty();
    assertThat(ToolRun.of("iverilog", folder, 120, List.of("vvp", "-n", "t.vvp")).output().strip())
        .isEqualTo("done");
  }
}

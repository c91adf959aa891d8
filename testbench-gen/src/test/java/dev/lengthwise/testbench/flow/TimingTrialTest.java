package dev.lengthwise.testbench.flow;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.CoreSamples;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Linter;
import dev.lengthwise.testing.RtlEquivalence;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Debian packages iverilog, verilator, yosys and ghdl. */
@CallsTools
class TimingTrialTest {

  @TempDir Path folder;

  @Test
  void block_ofALaneAndARow_passesAllLinters_andIsTheSameInBothLanguages() {
    Realizer realizer = Realizer.on(DeviceProfile.sixInput());
    for (Design design :
        List.of(
            realizer.realize(CoreSamples.lane(), Style.ROM),
            realizer.realize(CoreSamples.row(), Style.ROM))) {
      Path tree = folder.resolve(design.name());
      OutputTree.at(tree)
          .add(new TimingTrial(new Verilog()))
          .add(new TimingTrial(new Vhdl()))
          .write(design);
      EmittedTree emitted = new EmittedTree(tree, TimingTrial.top(design.name()));
      for (Linter linter : Linter.values()) {
        assertWithMessage("%s", linter).that(linter.complaints(emitted)).isEmpty();
      }
      assertThat(RtlEquivalence.prove(emitted)).contains(design.name() + "_timing");
    }
  }

  /** A chain in front, one register for each output, and a bit folded in each step of one LUT. */
  @Test
  void block_ofFourBits_isThisText() {
    CircuitBuilder gate = Circuit.named("gate", "Inverts.");
    gate.output("y", gate.not(gate.input("x", 4, "any")), "the inverse");
    String text =
        new Verilog()
            .files(TimingTrial.around(gate.build())).stream()
                .filter(file -> file.path().endsWith("gate_timing.v"))
                .map(OutputFile::text)
                .findFirst()
                .orElseThrow();
    assertThat(text.substring(text.indexOf("module gate_timing")))
        .isEqualTo(
            """
            module gate_timing (
              input  wire clock,
              input  wire serial_in,
              output wire serial_out
            );

              reg  [3:0] in_x;
              wire [3:0] under_trial_y;
              reg  [3:0] out_y;
              reg        folded_0;
              reg        folded_1;

              gate under_trial (
                .x (in_x),
                .y (under_trial_y)
              );

              // ---- Registers ----
              always @(posedge clock) begin
                in_x <= {in_x[2:0], serial_in};
                out_y <= under_trial_y;
                folded_0 <= out_y[0] ^ out_y[1] ^ out_y[2];
                folded_1 <= folded_0 ^ out_y[3];
              end

              // ---- Outputs ----
              assign serial_out = folded_1;

            endmodule

            `default_nettype wire
            """);
  }

  @Test
  void files_ofATextOfTheUsers_putItInside() {
    String text =
        """
        // module none (input x);
        module inner(input p, output q); assign q = p; endmodule
        module outer(input [7:0] code,
          input wide, output reg [3:0] length);
        endmodule
        """;
    List<OutputFile> files = new TimingTrial(new Verilog()).files(text);
    assertThat(files.stream().map(OutputFile::path))
        .containsExactly("verilog/outer.v", "verilog/outer_timing.v", "verilog/outer_timing.f")
        .inOrder();
    assertThat(files.get(0).text()).isEqualTo(text);
    assertThat(files.get(1).text()).contains(".code");
    assertThat(files.get(1).text()).contains("reg  [7:0] in_code");
  }

  @Test
  void files_ofAnotherText_areRefused() {
    assertSays(
        "no text", "timing trial: a module with its ports in its head is expected, found none");
    assertSays(
        "module m(a, b); input a; output b; endmodule",
        "timing trial: a port must read as input [7:0] code, found \"a\"");
    assertSays(
        "module m(input [N:0] a, output b); endmodule",
        "timing trial: a port must read as input [7:0] code, found \"input [N:0] a\"");
  }

  private static void assertSays(String text, String message) {
    TimingTrial trial = new TimingTrial(new Verilog());
    assertThat(assertThrows(IllegalArgumentException.class, () -> trial.files(text)).getMessage())
        .isEqualTo(message);
  }
}

package dev.lengthwise.vhdl;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Linter;
import dev.lengthwise.testing.RtlEquivalence;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Verilog and VHDL of the same circuit are formally the same (Debian packages ghdl and yosys), and
 * a change to either is found.
 */
@CallsTools
class EquivalenceTest {

  @TempDir Path directory;

  static Stream<Circuit> circuits() {
    return Stream.concat(
        SampleCircuits.all().stream().filter(circuit -> !circuit.name().equals("memories")),
        Stream.of(memories()));
  }

  /** RAM of either kind, written by words or by lanes, small enough for a proof in seconds. */
  private static Circuit memories() {
    CircuitBuilder b = Circuit.named("small_memories", "Memories that are written by words.");
    Signal write = b.input("write", 3, "write enables");
    Signal at = b.input("at", 2, "address to write");
    Signal data = b.input("data", 6, "data to write");
    Signal from = b.input("from_address", 2, "address to read");
    Memory lines = b.memory(new Memory("lines", Memory.Kind.BLOCK, 4, 6, 1));
    Memory tags = b.memory(new Memory("tags", Memory.Kind.DISTRIBUTED, 4, 6, 1));
    Memory parts = b.memory(new Memory("parts", Memory.Kind.BLOCK, 4, 6, 3));
    Memory bits = b.memory(new Memory("bits", Memory.Kind.DISTRIBUTED, 4, 3, 3));
    b.write(lines, b.bit(write, 0), at, data);
    b.write(tags, b.bit(write, 1), at, data);
    b.write(parts, write, at, data);
    b.write(bits, write, at, b.slice(data, 1, 3));
    b.output("line", b.read(lines, from, b.bit(write, 1)), "enabled");
    b.output("tag", b.read(tags, from), "same cycle");
    b.output("part", b.read(parts, from, b.bit(write, 2)), "enabled");
    b.output("bit_found", b.read(bits, from), "same cycle");
    return b.build();
  }

  private EmittedTree write(Circuit circuit) {
    List<OutputFile> files = new ArrayList<>(new Verilog().files(circuit));
    files.addAll(new Vhdl().files(circuit));
    return EmittedTree.write(directory, circuit.name(), files);
  }

  @ParameterizedTest
  @MethodSource("circuits")
  void prove_sample_everyBlockIsTheSame(Circuit circuit) {
    EmittedTree tree = write(circuit);
    assertThat(RtlEquivalence.prove(tree)).hasSize(circuit.blocks().size());
  }

  private void change(String path, String from, String to) throws IOException {
    Path file = directory.resolve(path);
    String text = Files.readString(file);
    String changed = text.replace(from, to);
    assertThat(changed).isNotEqualTo(text);
    Files.writeString(file, changed);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "vhdl/instances.vhd     | => s,               | => a(1),         | instances",
        "vhdl/registers_low.vhd | held <= x\"03\";    | held <= x\"02\"; | registers_low",
        "vhdl/small_memories.vhd | (at))) <= data; | (at))) <= from_address & data(3 downto 0);"
            + " | small_memories",
        "vhdl/small_memories.vhd | <= data(3 downto 2); | <= data(4 downto 3); | small_memories",
        "verilog/sums.v         | less = a -          | less = a +       | sums",
        "verilog/luts.v         | 9e3779b97f4a7c15 | 9e3779b97f4a7c14  | luts"
      })
  void prove_oneTextChanged_fails(String path, String from, String to, String name)
      throws IOException {
    Circuit circuit = circuits().filter(c -> c.name().equals(name)).findFirst().orElseThrow();
    EmittedTree tree = write(circuit);
    change(path, from, to);
    AssertionError error = assertThrows(AssertionError.class, () -> RtlEquivalence.prove(tree));
    assertThat(error).hasMessageThat().contains("unproven $equiv cells");
    assertThat(error).hasMessageThat().contains("in " + name + ": Unproven $equiv");
  }

  @Test
  void linters_latchInVhdl_isFound() throws IOException {
    EmittedTree tree = write(SampleCircuits.registers("latched", Reset.ACTIVE_HIGH));
    change("vhdl/latched.vhd", "if rising_edge(clock) then", "if clock = '1' then");
    String found;
    try {
      found = Linter.GHDL_SYNTHESIS.complaints(tree);
    } catch (AssertionError e) {
      found = e.getMessage();
    }
    assertThat(found).contains("latch");
  }

  @Test
  void linters_secondDriverInVhdl_isFound() throws IOException {
    EmittedTree tree = write(SampleCircuits.logic("driven"));
    change("vhdl/driven.vhd", "begin\n\n", "begin\n\n  passed <= c;\n");
    String found;
    try {
      found = Linter.GHDL_SYNTHESIS.complaints(tree);
    } catch (AssertionError e) {
      found = e.getMessage();
    }
    assertThat(found).containsMatch("multiple|several|driver");
  }

  @Test
  void linters_latchOrSecondDriverInVerilog_isFound() throws IOException {
    EmittedTree tree = write(SampleCircuits.registers("latched", Reset.ACTIVE_HIGH));
    change("verilog/latched.v", "always @(posedge clock)", "always @*");
    assertThrows(AssertionError.class, () -> Linter.YOSYS.complaints(tree));
    EmittedTree driven = write(SampleCircuits.logic("driven"));
    change("verilog/driven.v", "endmodule", "assign passed = c;\nendmodule");
    assertThrows(AssertionError.class, () -> Linter.YOSYS.complaints(driven));
  }
}

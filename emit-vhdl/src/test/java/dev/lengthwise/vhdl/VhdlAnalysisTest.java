package dev.lengthwise.vhdl;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** GHDL (Debian package ghdl) accepts the text under both editions without a warning. */
@CallsTools
class VhdlAnalysisTest {

  @TempDir Path directory;

  static Stream<Circuit> circuits() {
    return Stream.concat(SampleCircuits.all().stream(), SampleCircuits.random().stream());
  }

  @ParameterizedTest
  @MethodSource("circuits")
  void files_anyCircuit_areAcceptedByBothEditions(Circuit circuit) throws IOException {
    List<Path> sources = Tools.write(directory, circuit, new Vhdl());
    for (String edition : List.of("93", "08")) {
      Tools.analyse(Files.createDirectory(directory.resolve(edition)), edition, sources);
    }
  }

  @Test
  void files_largeTablesByPattern_areShort() {
    String text = new Vhdl().files(SampleCircuits.patterns()).get(0).text();
    assertThat(text.length()).isLessThan(6000);
    assertThat(text).contains("std_match(address_2, \"-0---------0--11\")");
  }

  @Test
  void files_portsCalledAsWordsOfFunctions_areNotHidden() throws IOException {
    CircuitBuilder b = Circuit.named("words", "Ports called as what our functions call theirs.");
    for (String name : List.of("i", "vector", "reduced", "left", "numbered", "table_bits")) {
      b.userInput(name, 2, "a user's");
    }
    Signal operand = b.input("operand", 8, "an operand");
    b.output("parity", b.reduce(Node.Operation.XOR, operand), "computed in a loop");
    b.output("same", b.equal(operand, b.input("other", 8, "another")), "compared");
    List<Path> sources = Tools.write(directory, b.build(), new Vhdl());
    Tools.analyse(directory, "93", sources);
  }

  @Test
  void files_portsCalledAsBlocks_giveWay() throws IOException {
    CircuitBuilder inner = Circuit.named("operand", "A block called as a port of ours.");
    inner.output("same", inner.not(inner.input("operand", 8, "an operand")), "");
    CircuitBuilder twin =
        Circuit.named("operand", "Another, renamed to what a port of it is called.");
    twin.output("same", twin.not(twin.input("operand_2", 8, "an operand")), "");
    CircuitBuilder b = Circuit.named("outside", "Both blocks.");
    Signal value = b.input("value", 8, "");
    b.output("a", b.instance("one", inner.build(), Map.of("operand", value)).get("same"), "");
    b.output("b", b.instance("two", twin.build(), Map.of("operand_2", value)).get("same"), "");
    List<Path> sources = Tools.write(directory, b.build(), new Vhdl());
    Tools.analyse(directory, "93", sources);
  }

  @Test
  void analyse_faultyText_fails() throws IOException {
    List<Path> sources = Tools.write(directory, SampleCircuits.sums(), new Vhdl());
    Path source = sources.get(0);
    Files.writeString(source, Files.readString(source).replace("one_bit <= s xor s;", ""));
    Tools.analyse(directory, "93", sources);
    Files.writeString(
        source, Files.readString(source).replace("begin\n", "signal idle : bit;\nbegin\n"));
    AssertionError error =
        assertThrows(AssertionError.class, () -> Tools.analyse(directory, "93", sources));
    assertThat(error).hasMessageThat().contains("warning: signal \"idle\" is never referenced");
  }
}

package dev.lengthwise.vhdl;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The text in GHDL (Debian package ghdl) gives what the built-in simulator gives. */
@CallsTools
class VhdlSimulationTest {

  private static final int CYCLES = 300;

  @TempDir Path directory;

  static Stream<Circuit> circuits() {
    return Stream.concat(SampleCircuits.all().stream(), SampleCircuits.random().stream());
  }

  @ParameterizedTest
  @MethodSource("circuits")
  void files_anyCircuit_simulateLikeTheModel(Circuit circuit) {
    List<Path> sources = Tools.write(directory, circuit, new Vhdl());
    Tools.Result result = new SimulationBench(circuit, directory).run("93", sources, CYCLES, 1);
    assertEqualCycles(result);
  }

  @Test
  void files_changedText_isFoundDifferent() throws IOException {
    Circuit circuit = SampleCircuits.registers("changed", dev.lengthwise.circuit.Reset.ACTIVE_LOW);
    List<Path> sources = Tools.write(directory, circuit, new Vhdl());
    String text = Files.readString(sources.get(0));
    String changed = text.replace("flag <= not flag", "flag <= flag");
    assertThat(changed).isNotEqualTo(text);
    Files.writeString(sources.get(0), changed);
    Tools.Result result = new SimulationBench(circuit, directory).run("08", sources, CYCLES, 1);
    assertThat(result.exit()).isNotEqualTo(0);
    assertThat(result.output()).contains("wrong in cycle");
  }

  private static void assertEqualCycles(Tools.Result result) {
    assertThat(result.output()).contains("equal in cycles: " + CYCLES);
    assertThat(result.output().lines().count()).isEqualTo(1);
    assertThat(result.exit()).isEqualTo(0);
  }
}

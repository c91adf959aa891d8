package dev.lengthwise.vhdl;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Slow;
import dev.lengthwise.testing.SynthesisFlow;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.verilog.VerilogOptions;
import java.math.BigInteger;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * A network of LUTs comes out of whole synthesis flows with as many LUTs as it has, and with
 * nothing else.
 */
@CallsTools
@Slow
class LutsAfterSynthesisTest {

  private static final int LUTS = 24;

  @TempDir Path directory;

  /** LUTs that a mapper would join: many read one that nothing else reads, some are inverters. */
  private static Circuit network(int lutInputs) {
    Random random = new Random(lutInputs);
    CircuitBuilder b = Circuit.named("network", "LUTs.");
    Signal code = b.input("code", 8, "bits");
    List<Signal> unread = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      unread.add(b.bit(code, i));
    }
    List<Signal> all = new ArrayList<>(unread);
    for (int i = 0; i < LUTS; i++) {
      int inputs = 1 + i % lutInputs;
      List<Signal> read = new ArrayList<>(List.of(unread.remove(0)));
      while (read.size() < inputs) {
        Signal other = all.get(random.nextInt(all.size()));
        if (!read.contains(other)) {
          read.add(other);
        }
      }
      Signal lut = b.lut(read, contents(inputs));
      unread.removeAll(read);
      unread.add(lut);
      all.add(lut);
    }
    b.output("left", b.concat(unread), "what no LUT reads");
    return b.build();
  }

  /** An inverter, or set if the inputs count a prime number, 1 taken for one; few functions. */
  private static Contents contents(int inputs) {
    long[] words = new long[1 << inputs];
    for (int point = 0; point < words.length; point++) {
      words[point] = point == 1 || BigInteger.valueOf(point).isProbablePrime(20) ? 1 : 0;
    }
    return inputs == 1 ? Contents.of(1, 1, 0) : Contents.of(1, words);
  }

  private EmittedTree write(Circuit circuit, Verilog verilog) {
    List<OutputFile> files = new ArrayList<>(verilog.files(circuit));
    files.addAll(new Vhdl().files(circuit));
    return EmittedTree.write(directory, circuit.name(), files);
  }

  @ParameterizedTest
  @EnumSource
  void files_network_comeOutAsTheyWentIn(SynthesisFlow flow) {
    EmittedTree tree = write(network(flow.lutInputs()), new Verilog());
    SynthesisFlow.Result exact = new SynthesisFlow.Result(LUTS, Map.of());
    assertThat(flow.verilog(tree)).isEqualTo(exact);
    assertThat(flow.vhdl(tree)).isEqualTo(exact);
  }

  /** Otherwise the network would not show that anything was kept. */
  @Test
  void files_assignments_areMappedAnew() {
    SynthesisFlow flow = SynthesisFlow.FOUR_INPUT;
    VerilogOptions options = VerilogOptions.standard().withLut(new VerilogOptions.LutAssignment());
    EmittedTree tree = write(network(flow.lutInputs()), new Verilog(options));
    assertThat(flow.verilog(tree).luts()).isNotEqualTo(LUTS);
  }
}

package dev.lengthwise.circuit;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.simulate.CircuitSimulator;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.math.BigInteger;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** The simulator against the slow interpreter, on random circuits: a third of them in a build. */
@Slow
class RandomCircuitsTest {

  private static final int CYCLES = 20;
  private static final List<Reset> RESETS = List.of(Reset.values());

  @Slow
  @Test
  void simulator_clockedCircuits_agreesWithSlowInterpreter() {
    for (int seed = 0; seed < Extent.of(20, 60); seed++) {
      compare(RandomCircuits.clocked(seed, RESETS.get(seed % 3)), seed);
    }
  }

  @Test
  void simulator_combinationalCircuits_agreesWithSlowInterpreter() {
    for (int seed = 0; seed < Extent.of(20, 60); seed++) {
      Circuit circuit = RandomCircuits.combinational(seed);
      assertThat(circuit.isClocked()).isFalse();
      compare(circuit, seed);
    }
  }

  private static void compare(Circuit circuit, int seed) {
    Random random = new Random(~seed);
    CircuitSimulator simulator = CircuitSimulator.of(circuit);
    SlowInterpreter slow = new SlowInterpreter(circuit);
    for (int cycle = 0; cycle < CYCLES; cycle++) {
      boolean reset = circuit.isReset() && random.nextInt(8) == 0;
      if (circuit.isReset()) {
        simulator.reset(reset);
      }
      Map<String, BigInteger> expected = slow.evaluate(setInputs(circuit, simulator, random));
      Map<String, BigInteger> found = new HashMap<>();
      for (String port : expected.keySet()) {
        found.put(port, read(circuit, simulator, port));
      }
      assertWithMessage("%s in cycle %s", circuit, cycle).that(found).isEqualTo(expected);
      simulator.tick();
      slow.tick(reset);
    }
  }

  private static Map<String, BigInteger> setInputs(
      Circuit circuit, CircuitSimulator simulator, Random random) {
    Map<String, BigInteger> inputs = new HashMap<>();
    for (Port port : circuit.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        BigInteger value = new BigInteger(port.width(), random);
        inputs.put(port.name(), value);
        long[] words = new long[(port.width() + 63) / 64];
        for (int i = 0; i < words.length; i++) {
          words[i] = value.shiftRight(64 * i).longValue();
        }
        simulator.set(simulator.input(port.name()), words);
      }
    }
    return inputs;
  }

  private static BigInteger read(Circuit circuit, CircuitSimulator simulator, String port) {
    int width = circuit.drivers().get(port).width();
    long[] words = new long[(width + 63) / 64];
    simulator.get(simulator.output(port), words);
    BigInteger value = BigInteger.ZERO;
    for (int i = words.length - 1; i >= 0; i--) {
      value = value.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[i])));
    }
    return value;
  }

  @Test
  void clocked_anySeed_usesEveryKindOfNode() {
    Set<String> expected = new TreeSet<>();
    for (Class<?> kind : Node.class.getPermittedSubclasses()) {
      expected.add(kind.getSimpleName());
    }
    for (int seed = 0; seed < 20; seed++) {
      Set<String> kinds = new TreeSet<>();
      for (Circuit block : RandomCircuits.clocked(seed, Reset.ACTIVE_HIGH).blocks()) {
        block.nodes().forEach(node -> kinds.add(node.getClass().getSimpleName()));
      }
      assertThat(kinds).isEqualTo(expected);
    }
  }

  @Test
  void clocked_manySeeds_reachEveryWidth() {
    Set<Integer> widths = new HashSet<>();
    for (int seed = 0; seed < 150; seed++) {
      for (Circuit block : RandomCircuits.clocked(seed, Reset.NONE).blocks()) {
        block.nodes().forEach(node -> widths.add(node.width()));
      }
    }
    for (int width = 1; width <= RandomCircuits.MOST_WIDTH; width++) {
      assertThat(widths).contains(width);
    }
  }

  @Test
  void clocked_sameSeed_isTheSameCircuit() {
    Circuit once = RandomCircuits.clocked(5, Reset.NONE);
    Circuit again = RandomCircuits.clocked(5, Reset.NONE);
    assertThat(once.nodes().toString()).isEqualTo(again.nodes().toString());
    assertThat(once.drivers().toString()).isEqualTo(again.drivers().toString());
    assertThat(RandomCircuits.clocked(6, Reset.NONE).nodes().toString())
        .isNotEqualTo(once.nodes().toString());
  }
}

package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.simulate.CircuitSimulator;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.FileHead;
import java.math.BigInteger;
import java.util.Random;
import java.util.function.UnaryOperator;

/** Writes a test bench that compares a module with the built-in simulator on random vectors. */
final class Bench {

  private final Circuit circuit;
  private final CircuitSimulator simulator;
  private final Random random;
  private final StringBuilder text = new StringBuilder();

  private Bench(Circuit circuit, int seed) {
    this.circuit = circuit;
    this.simulator = CircuitSimulator.of(circuit);
    this.random = new Random(seed);
  }

  /**
   * Returns the bench, which prints one line: {@code cycles N errors M}.
   *
   * @param spoil changes the values that are expected, to show that the bench can fail
   */
  static String of(Circuit circuit, int cycles, int seed, UnaryOperator<BigInteger> spoil) {
    return new Bench(circuit, seed).write(cycles, spoil);
  }

  private String write(int cycles, UnaryOperator<BigInteger> spoil) {
    boolean low = circuit.reset() == Reset.ACTIVE_LOW;
    text.append("module bench;\n  integer errors = 0;\n  integer i;\n");
    StringBuilder connections = new StringBuilder();
    for (Port port : FileHead.ports(circuit)) {
      boolean input = port.direction() == Port.Direction.INPUT;
      text.append(
          "  %s [%d:0] %s%s;\n"
              .formatted(
                  input ? "reg" : "wire", port.width() - 1, port.name(), input ? " = 0" : ""));
      connections.append(
          "%s.%s(%s)".formatted(connections.isEmpty() ? "" : ", ", port.name(), port.name()));
    }
    text.append("  %s dut (%s);\n".formatted(circuit.name(), connections));
    text.append("  initial begin\n");
    clearState(circuit, "dut.");
    for (int cycle = 0; cycle < cycles; cycle++) {
      if (circuit.isReset()) {
        boolean active = random.nextInt(8) == 0;
        simulator.reset(active);
        text.append(low ? "    reset_n = " : "    reset = ")
            .append(active != low ? 1 : 0)
            .append(";\n");
      }
      writeCycle(cycle, spoil);
    }
    text.append("    $display(\"cycles %d errors %%0d\", errors);\n".formatted(cycles));
    text.append("    $finish;\n  end\nendmodule\n");
    return text.toString();
  }

  /** Puts the module into the state in which the simulator starts. */
  private void clearState(Circuit block, String path) {
    EmissionPlan plan = EmissionPlan.of(block);
    for (int place : plan.statements()) {
      Node node = plan.node(place);
      String name = path + plan.name(place).orElseThrow();
      if (node instanceof Node.Register register) {
        BigInteger start =
            block.reset() == Reset.NONE
                ? BigInteger.ZERO
                : register.resetValue().orElse(BigInteger.ZERO);
        text.append("    %s = %s;\n".formatted(name, literal(start, register.width())));
      } else if (node instanceof Node.RegisteredRead) {
        text.append("    %s = 0;\n".formatted(name));
      }
    }
    for (Memory memory : plan.memories()) {
      if (memory.kind() == Memory.Kind.REGISTERS) {
        for (String column : new Expressions(plan).columns(memory)) {
          text.append("    %s = 0;\n".formatted(path + column));
        }
        continue;
      }
      text.append(
          "    for (i = 0; i < %d; i = i + 1) %s[i] = 0;\n"
              .formatted(memory.depth(), path + plan.memoryName(memory)));
    }
    for (int instance : plan.instances()) {
      clearState(
          block.instances().get(instance).circuit(), path + plan.instanceName(instance) + ".");
    }
  }

  private void writeCycle(int cycle, UnaryOperator<BigInteger> spoil) {
    for (Port port : circuit.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        BigInteger value =
            random.nextInt(6) == 0 ? BigInteger.ZERO : new BigInteger(port.width(), random);
        simulator.set(simulator.input(port.name()), words(value, port.width()));
        text.append("    %s = %s;\n".formatted(port.name(), literal(value, port.width())));
      }
    }
    text.append("    #1;\n");
    for (Port port : circuit.ports()) {
      if (port.direction() == Port.Direction.OUTPUT) {
        String expected = literal(spoil.apply(read(port)), port.width());
        text.append(
            ("    if (%s !== %s) begin errors = errors + 1;"
                    + " $display(\"cycle %d: %s is %%h not %s\", %s); end\n")
                .formatted(port.name(), expected, cycle, port.name(), expected, port.name()));
      }
    }
    if (circuit.isClocked()) {
      text.append("    clock = 1; #1; clock = 0;\n");
      simulator.tick();
    }
  }

  private BigInteger read(Port port) {
    long[] words = new long[(port.width() + 63) / 64];
    simulator.get(simulator.output(port.name()), words);
    BigInteger value = BigInteger.ZERO;
    for (int i = words.length - 1; i >= 0; i--) {
      value = value.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[i])));
    }
    return value;
  }

  private static long[] words(BigInteger value, int width) {
    long[] words = new long[(width + 63) / 64];
    for (int i = 0; i < words.length; i++) {
      words[i] = value.shiftRight(64 * i).longValue();
    }
    return words;
  }

  private static String literal(BigInteger value, int width) {
    return width + "'h" + value.toString(16);
  }
}

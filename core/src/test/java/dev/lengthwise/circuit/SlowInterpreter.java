package dev.lengthwise.circuit;

import java.math.BigInteger;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Runs a circuit the obvious way: one big integer for each signal, one interpreter for each block,
 * every value worked out anew from the definition of its node. Shares nothing with the simulator.
 */
final class SlowInterpreter {

  private final Circuit circuit;
  private final Map<Integer, BigInteger> held = new HashMap<>();
  private final Map<Memory, BigInteger[]> memories = new HashMap<>();
  private final SlowInterpreter[] inside;
  private Map<String, BigInteger> inputs = Map.of();
  private BigInteger[] values = new BigInteger[0];
  private final Map<Integer, Map<String, BigInteger>> outputsOf = new HashMap<>();

  SlowInterpreter(Circuit circuit) {
    this.circuit = circuit;
    this.inside =
        circuit.instances().stream()
            .map(instance -> new SlowInterpreter(instance.circuit()))
            .toArray(SlowInterpreter[]::new);
    for (Memory memory : circuit.memoryWrites().keySet()) {
      BigInteger[] words = new BigInteger[memory.depth()];
      Arrays.fill(words, BigInteger.ZERO);
      memories.put(memory, words);
    }
    for (int i = 0; i < circuit.nodes().size(); i++) {
      if (circuit.nodes().get(i) instanceof Node.Register register) {
        held.put(
            i,
            circuit.reset() == Reset.NONE
                ? BigInteger.ZERO
                : register.resetValue().orElse(BigInteger.ZERO));
      } else if (circuit.nodes().get(i) instanceof Node.RegisteredRead) {
        held.put(i, BigInteger.ZERO);
      }
    }
  }

  /** Returns the outputs under given inputs. */
  Map<String, BigInteger> evaluate(Map<String, BigInteger> now) {
    inputs = now;
    values = new BigInteger[circuit.nodes().size()];
    outputsOf.clear();
    for (int i = 0; i < values.length; i++) {
      values[i] = valueOf(i, circuit.nodes().get(i));
    }
    for (int i = 0; i < inside.length; i++) {
      inside[i].evaluate(inputsOf(i));
    }
    Map<String, BigInteger> outputs = new HashMap<>();
    circuit.drivers().forEach((port, signal) -> outputs.put(port, of(signal)));
    return outputs;
  }

  private BigInteger of(Signal signal) {
    return values[signal.node()];
  }

  private static BigInteger bit(boolean value) {
    return value ? BigInteger.ONE : BigInteger.ZERO;
  }

  private BigInteger valueOf(int place, Node node) {
    if (node.operands().stream().anyMatch(operand -> of(operand) == null)) {
      return null; // depends on an input that is connected late: known in a second evaluation
    }
    BigInteger size = BigInteger.ONE.shiftLeft(node.width());
    if (node instanceof Node.Input input) {
      return inputs.get(input.port());
    } else if (node instanceof Node.Constant constant) {
      return constant.value();
    } else if (node instanceof Node.Slice slice) {
      return of(slice.source()).shiftRight(slice.low()).mod(size);
    } else if (node instanceof Node.Concat concat) {
      return concat(concat.parts());
    } else if (node instanceof Node.Not not) {
      return size.subtract(BigInteger.ONE).subtract(of(not.source()));
    } else if (node instanceof Node.Bitwise bitwise) {
      return bitwise(bitwise);
    } else if (node instanceof Node.Reduce reduce) {
      return reduce(reduce);
    } else if (node instanceof Node.Sum sum) {
      BigInteger right = sum.subtract() ? of(sum.right()).negate() : of(sum.right());
      return of(sum.left()).add(right).mod(size);
    } else if (node instanceof Node.Compare compare) {
      int order = of(compare.left()).compareTo(of(compare.right()));
      return bit(compare.equal() ? order == 0 : order < 0);
    } else if (node instanceof Node.Select select) {
      BigInteger last = BigInteger.valueOf(select.choices().size() - 1L);
      return of(select.choices().get(of(select.index()).min(last).intValueExact()));
    } else if (node instanceof Node.Lookup lookup) {
      long word = lookup.contents().word(of(lookup.address()).intValueExact());
      return new BigInteger(Long.toUnsignedString(word));
    } else if (node instanceof Node.DirectRead read) {
      return memories.get(read.memory())[of(read.address()).intValueExact()];
    } else if (node instanceof Node.InstanceOutput output) {
      Map<String, BigInteger> known = outputsOf.get(output.instance());
      if (known == null || known.get(output.port()) == null) {
        known = inside[output.instance()].evaluate(inputsOf(output.instance()));
        outputsOf.put(output.instance(), known);
      }
      return known.get(output.port());
    }
    return held.get(place);
  }

  private BigInteger concat(List<Signal> parts) {
    StringBuilder digits = new StringBuilder();
    for (Signal part : parts) {
      String binary = of(part).toString(2);
      digits.insert(0, "0".repeat(part.width() - binary.length()) + binary);
    }
    return new BigInteger(digits.toString(), 2);
  }

  private BigInteger bitwise(Node.Bitwise node) {
    BigInteger result = of(node.operands().get(0));
    for (Signal operand : node.operands().subList(1, node.operands().size())) {
      result =
          switch (node.operation()) {
            case AND -> result.and(of(operand));
            case OR -> result.or(of(operand));
            case XOR -> result.xor(of(operand));
          };
    }
    return result;
  }

  private BigInteger reduce(Node.Reduce reduce) {
    int ones = of(reduce.source()).bitCount();
    return bit(
        switch (reduce.operation()) {
          case AND -> ones == reduce.source().width();
          case OR -> ones > 0;
          case XOR -> ones % 2 == 1;
        });
  }

  private Map<String, BigInteger> inputsOf(int instance) {
    Map<String, BigInteger> found = new HashMap<>();
    int next = 0;
    for (Port port : circuit.instances().get(instance).circuit().ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        found.put(port.name(), of(circuit.instances().get(instance).inputs().get(next++)));
      }
    }
    return found;
  }

  /** Gives a clock edge to the values of the last evaluation. */
  void tick(boolean reset) {
    Map<Integer, BigInteger> next = new HashMap<>(held);
    for (int place : held.keySet()) {
      if (circuit.nodes().get(place) instanceof Node.RegisteredRead read) {
        if (isEnabled(read.enable())) {
          next.put(place, wordRead(read));
        }
      } else {
        Node.Register register = (Node.Register) circuit.nodes().get(place);
        Circuit.RegisterDrive drive = circuit.registerDrives().get(place);
        if (reset && circuit.reset() != Reset.NONE && register.resetValue().isPresent()) {
          next.put(place, register.resetValue().get());
        } else if (isEnabled(drive.enable())) {
          next.put(place, of(drive.next()));
        }
      }
    }
    circuit.memoryWrites().forEach((memory, write) -> write(memory, write, reset));
    held.putAll(next);
    for (SlowInterpreter block : inside) {
      block.tick(reset);
    }
  }

  /** The word at the address, every bit inverted if the cycle writes to it. */
  private BigInteger wordRead(Node.RegisteredRead read) {
    BigInteger word = memories.get(read.memory())[of(read.address()).intValueExact()];
    Circuit.MemoryWrite write = circuit.memoryWrites().get(read.memory());
    boolean collides =
        of(write.enable()).signum() > 0 && of(write.address()).equals(of(read.address()));
    return collides ? ones(read.width()).subtract(word) : word;
  }

  private static BigInteger ones(int width) {
    return BigInteger.ONE.shiftLeft(width).subtract(BigInteger.ONE);
  }

  private boolean isEnabled(Optional<Signal> enable) {
    return enable.isEmpty() || of(enable.get()).signum() > 0;
  }

  private void write(Memory memory, Circuit.MemoryWrite write, boolean reset) {
    boolean isReset = reset && circuit.reset() != Reset.NONE;
    if (write.clear().isPresent() && (isReset || isEnabled(write.clear()))) {
      Arrays.fill(memories.get(memory), BigInteger.ZERO);
      return;
    }
    int address = of(write.address()).intValueExact();
    BigInteger word = memories.get(memory)[address];
    int laneBits = memory.width() / memory.lanes();
    for (int bit = 0; bit < memory.width(); bit++) {
      if (of(write.enable()).testBit(bit / laneBits)) {
        word = of(write.data()).testBit(bit) ? word.setBit(bit) : word.clearBit(bit);
      }
    }
    memories.get(memory)[address] = word;
  }
}

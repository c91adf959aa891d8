package dev.lengthwise.circuit.simulate;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Flattens a circuit and the blocks inside it into a {@link Program} and its {@link ClockedState}.
 *
 * <p>Ports of instances cost nothing: an input of a block inside is the word of the signal that
 * drives it, and an output of it the word of its driver. Every node refers to earlier nodes, and
 * those inputs of an instance that its outputs follow are earlier than its outputs; so visiting
 * nodes in order, and a block inside at its first output, computes every operand before it is read.
 * What inside depends on an input connected late is computed after the block around it. For the
 * same reason no combinational loop can be written, with or without instances; feedback passes a
 * register or memory.
 */
final class Flattener {

  /** The place of a node that is not computed yet. */
  private static final int UNKNOWN = -1;

  private final List<long[]> tables = new ArrayList<>();
  private final Map<Contents, Integer> tablePlaces = new HashMap<>();
  private final List<long[]> memories = new ArrayList<>();
  private final Map<Integer, BigInteger> constants = new HashMap<>();
  private final Map<Integer, Integer> masks = new HashMap<>();
  private final ClockedState state = new ClockedState(memories);
  private final NodeCode code = new NodeCode(this);
  private final Map<String, Integer> ports = new HashMap<>();
  private int wordCount;

  /** The words of a block's nodes while it is flattened. */
  private final class Block {
    final Circuit circuit;
    final int[] places;
    final Map<Memory, Integer> memoryPlaces = new HashMap<>();
    final Block[] inside;

    Block(Circuit circuit) {
      this.circuit = circuit;
      this.places = new int[circuit.nodes().size()];
      this.inside = new Block[circuit.instances().size()];
      for (Memory memory : circuit.memoryWrites().keySet()) {
        memoryPlaces.put(memory, memories.size());
        memories.add(new long[memory.depth() * words(memory.width())]);
      }
    }

    int place(Signal signal) {
      return places[signal.node()];
    }

    int place(Optional<Signal> enable) {
      return enable.map(this::place).orElse(ClockedState.ABSENT);
    }
  }

  /** Flattens a circuit. */
  Flattener(Circuit circuit) {
    for (Port port : circuit.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        ports.put(port.name(), allocate(port.width()));
      }
    }
    Block top = block(circuit, Map.copyOf(ports));
    finish(top, Map.of());
    circuit.drivers().forEach((port, driver) -> ports.put(port, top.place(driver)));
  }

  /** Returns the first word of a port of the circuit. */
  int place(Port port) {
    return ports.get(port.name());
  }

  ClockedState state() {
    return state;
  }

  Program program() {
    return new Program(code.code(), tables.toArray(long[][]::new), memories.toArray(long[][]::new));
  }

  /** Returns the words at power-up, but for the registers: constants, and 0. */
  long[] initialWords() {
    long[] words = new long[wordCount];
    constants.forEach(
        (place, value) -> {
          for (int i = 0; 64 * i < value.bitLength(); i++) {
            words[place + i] = value.shiftRight(64 * i).longValue();
          }
        });
    return words;
  }

  /** Flattens a block as far as it depends on the inputs known; {@link #finish} does the rest. */
  private Block block(Circuit circuit, Map<String, Integer> inputs) {
    Block block = new Block(circuit);
    Arrays.fill(block.places, UNKNOWN);
    compute(block, inputs);
    return block;
  }

  /** Computes the nodes that are not yet computed and whose operands are. */
  private void compute(Block block, Map<String, Integer> inputs) {
    for (int i = 0; i < block.places.length; i++) {
      Node node = block.circuit.nodes().get(i);
      if (block.places[i] == UNKNOWN
          && node.operands().stream().allMatch(operand -> block.place(operand) != UNKNOWN)) {
        if (node instanceof Node.Input input) {
          block.places[i] = inputs.getOrDefault(input.port(), UNKNOWN);
        } else if (node instanceof Node.InstanceOutput output) {
          block.places[i] = outputOf(block, output);
        } else if (node instanceof Node.Constant constant) {
          block.places[i] = constant(constant.value(), constant.width());
        } else {
          block.places[i] = allocate(node.width());
          code.add(node, block.places[i], block::place, block.memoryPlaces::get);
        }
      }
    }
  }

  /** Computes what depends on the inputs that were connected late, and connects the state. */
  private void finish(Block block, Map<String, Integer> inputs) {
    compute(block, inputs);
    for (int i = 0; i < block.inside.length; i++) {
      finish(block.inside[i], inputs(block, block.circuit.instances().get(i)));
    }
    connect(block);
  }

  private int outputOf(Block parent, Node.InstanceOutput output) {
    Circuit.Instance instance = parent.circuit.instances().get(output.instance());
    if (parent.inside[output.instance()] == null) {
      parent.inside[output.instance()] = block(instance.circuit(), inputs(parent, instance));
    }
    Block inside = parent.inside[output.instance()];
    Signal driver = instance.circuit().drivers().get(output.port());
    if (inside.place(driver) == UNKNOWN) {
      compute(inside, inputs(parent, instance));
    }
    return inside.place(driver);
  }

  /** Returns the places of an instance's inputs as far as they are computed. */
  private static Map<String, Integer> inputs(Block parent, Circuit.Instance instance) {
    Map<String, Integer> inputs = new HashMap<>();
    int next = 0;
    for (Port port : instance.circuit().ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        int place = parent.place(instance.inputs().get(next++));
        if (place != UNKNOWN) {
          inputs.put(port.name(), place);
        }
      }
    }
    return inputs;
  }

  /** Connects what counts at the clock edge and so may come from later nodes. */
  private void connect(Block block) {
    Circuit circuit = block.circuit;
    for (int i = 0; i < block.places.length; i++) {
      Node node = circuit.nodes().get(i);
      int words = words(node.width());
      if (node instanceof Node.Register register) {
        Circuit.RegisterDrive drive = circuit.registerDrives().get(i);
        state.addRegister(
            block.places[i],
            words,
            block.place(drive.next()),
            block.place(drive.enable()),
            circuit.reset() == Reset.NONE || register.resetValue().isEmpty()
                ? ClockedState.ABSENT
                : constant(register.resetValue().get(), register.width()));
      } else if (node instanceof Node.RegisteredRead read) {
        state.addRead(
            block.places[i],
            words,
            block.place(read.address()),
            block.place(read.enable()),
            block.memoryPlaces.get(read.memory()));
      }
    }
    circuit
        .memoryWrites()
        .forEach(
            (memory, write) ->
                state.addWrite(
                    memory,
                    block.memoryPlaces.get(memory),
                    laneMasks(memory),
                    new ClockedState.WritePort(
                        block.place(write.enable()),
                        block.place(write.address()),
                        block.place(write.data()),
                        block.place(write.clear())),
                    circuit.reset() != Reset.NONE));
  }

  private int allocate(int width) {
    int place = wordCount;
    wordCount += words(width);
    return place;
  }

  private int constant(BigInteger value, int width) {
    int place = allocate(width);
    constants.put(place, value);
    return place;
  }

  private int laneMasks(Memory memory) {
    int bits = memory.width() / memory.lanes();
    BigInteger ones = ones(bits);
    int first = wordCount;
    for (int lane = 0; lane < memory.lanes(); lane++) {
      constant(ones.shiftLeft(lane * bits), memory.width());
    }
    return first;
  }

  private static BigInteger ones(int bits) {
    return BigInteger.ONE.shiftLeft(bits).subtract(BigInteger.ONE);
  }

  /** Returns the word that has ones where the last word of a signal has bits. */
  int maskOfLastWord(int width) {
    int bits = (width - 1) % 64 + 1;
    Integer place = masks.get(bits);
    if (place == null) {
      place = constant(ones(bits), bits);
      masks.put(bits, place);
    }
    return place;
  }

  int table(Contents contents) {
    return tablePlaces.computeIfAbsent(
        contents,
        key -> {
          long[] words = new long[1 << key.addressBits()];
          Arrays.setAll(words, key::word);
          tables.add(words);
          return tables.size() - 1;
        });
  }

  static int words(int width) {
    return (width + 63) / 64;
  }
}

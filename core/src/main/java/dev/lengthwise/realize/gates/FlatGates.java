package dev.lengthwise.realize.gates;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Node.Operation;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * A circuit with the blocks inside it as one network of gates, cut at its state.
 *
 * <p>Input {@code port_i} is bit i of a port, likewise for outputs; a port of one bit has the
 * port's name. State of a block inside has the names of the instances before its own, with {@code
 * /} between. A register is an input {@code name.q}, and what it takes is an output {@code name.d},
 * with {@code name.enable}; one that is not reset but set to a constant by a choice takes what is
 * chosen else, and an output {@code name.clear} chooses. Read n of a RAM is an input {@code
 * name.word<n>}, and an output {@code name.address<n>}, with {@code name.read<n>}; its write port
 * is the outputs {@code name.write}, {@code name.write_address} and {@code name.data}. The words of
 * a memory of registers are registers {@code name.q}, with gates that write and read them.
 */
public final class FlatGates {

  private final List<String> names = new ArrayList<>();
  private final Map<String, int[]> inputs = new LinkedHashMap<>();
  private final Map<String, int[]> points = new LinkedHashMap<>();
  private final Map<String, int[]> outputs = new LinkedHashMap<>();
  private final Predicate<String> kept;
  private LutNetworkBuilder builder;
  private LutNetwork network;
  private GateNetwork gates;
  private int outputCount;

  /** A register that is set to a constant, as flip-flops do beside their logic. */
  private record Cleared(Signal when, Signal otherwise) {

    /** Finds one that is not reset, as a flip-flop has one such input. */
    static Optional<Cleared> of(Circuit circuit, int register, Signal next) {
      Node.Register kept = (Node.Register) circuit.nodes().get(register);
      if (kept.resetValue().isPresent()
          || !(circuit.nodes().get(next.node()) instanceof Node.Select select)
          || select.index().width() != 1
          || select.choices().size() != 2) {
        return Optional.empty();
      }
      Signal first = select.choices().get(0);
      Signal second = select.choices().get(1);
      if (isConstant(circuit, first) == isConstant(circuit, second)) {
        return Optional.empty();
      }
      return Optional.of(new Cleared(select.index(), isConstant(circuit, first) ? second : first));
    }

    private static boolean isConstant(Circuit circuit, Signal signal) {
      return circuit.nodes().get(signal.node()) instanceof Node.Constant;
    }
  }

  /** A block and the bits of its nodes, as far as they are known. */
  private static final class Block {
    private final Circuit circuit;
    private final String path;
    private final int[][] values;
    private final Block[] inside;

    Block(Circuit circuit, String path) {
      this.circuit = circuit;
      this.path = path;
      this.values = new int[circuit.nodes().size()][];
      this.inside = new Block[circuit.instances().size()];
    }

    int[] of(Signal signal) {
      return values[signal.node()];
    }
  }

  private FlatGates(Predicate<String> kept) {
    this.kept = kept;
  }

  /** Returns the gates alone. */
  public static LutNetwork of(Circuit circuit, int lutInputs) {
    return of(circuit, lutInputs, List.of(), output -> true).network();
  }

  /**
   * Returns the gates with further outputs.
   *
   * @param wanted outputs of blocks inside, {@code instance.key}, or named signals, each with the
   *     names of the instances before it; the output is called {@code @} and that
   * @param kept tells by its name, without the number of a bit, whether another output is there
   */
  public static FlatGates of(
      Circuit circuit, int lutInputs, List<String> wanted, Predicate<String> kept) {
    FlatGates flat = new FlatGates(kept);
    for (Port port : circuit.ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        flat.input(port.name(), port.width());
      }
    }
    flat.stateInputs(circuit, "");
    flat.builder = LutNetwork.builder(flat.names);
    flat.gates = new GateNetwork(flat.builder, lutInputs);
    Block top = new Block(circuit, "");
    Map<String, int[]> ports = new LinkedHashMap<>();
    circuit.ports().forEach(port -> ports.put(port.name(), flat.inputs.get(port.name())));
    flat.compute(top, ports);
    flat.finish(top, ports);
    circuit.drivers().forEach((port, driver) -> flat.output(port, top.of(driver)));
    flat.stateOutputs(top);
    for (String point : wanted) {
      int[] bits = flat.points.get(point);
      if (bits == null) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "gates of %s: a point of the circuit is expected, found %s",
                circuit.name(),
                point));
      }
      flat.outputs("@" + point, bits);
    }
    flat.network = flat.builder.build();
    return flat;
  }

  /** Returns the gates. */
  public LutNetwork network() {
    return network;
  }

  /** Returns the places of the bits of each input of the network, by its name. */
  public Map<String, int[]> inputs() {
    return inputs;
  }

  /** Returns the places of the bits of each output of the network, by its name. */
  public Map<String, int[]> outputs() {
    return outputs;
  }

  private void input(String name, int width) {
    int[] bits = new int[width];
    for (int bit = 0; bit < width; bit++) {
      bits[bit] = names.size();
      names.add(bitName(name, width, bit));
    }
    inputs.put(name, bits);
  }

  private void output(String name, int[] bits) {
    if (kept.test(name)) {
      outputs(name, bits);
    }
  }

  private void outputs(String name, int[] bits) {
    int[] places = new int[bits.length];
    for (int bit = 0; bit < bits.length; bit++) {
      places[bit] = outputCount++;
      builder.output(bitName(name, bits.length, bit), bits[bit]);
    }
    outputs.put(name, places);
  }

  private static String bitName(String name, int width, int bit) {
    return width == 1 ? name : name + "_" + bit;
  }

  private void stateInputs(Circuit circuit, String path) {
    for (int place = 0; place < circuit.nodes().size(); place++) {
      Node node = circuit.nodes().get(place);
      if (node instanceof Node.Register register) {
        input(path + register.name() + ".q", register.width());
      } else if (isRamRead(node)) {
        input(path + read(circuit, place, "word"), node.width());
      }
    }
    for (Memory memory : circuit.memoryWrites().keySet()) {
      for (int row = 0; memory.kind() == Memory.Kind.REGISTERS && row < memory.depth(); row++) {
        input(path + memory.name() + "." + row + ".q", memory.width());
      }
    }
    for (Circuit.Instance instance : circuit.instances()) {
      stateInputs(instance.circuit(), path + instance.name() + "/");
    }
  }

  private static boolean isRamRead(Node node) {
    return node instanceof Node.RegisteredRead
        || (node instanceof Node.DirectRead read
            && read.memory().kind() == Memory.Kind.DISTRIBUTED);
  }

  private static Memory memory(Node read) {
    return read instanceof Node.RegisteredRead sync
        ? sync.memory()
        : ((Node.DirectRead) read).memory();
  }

  /** Names a read by its memory and its number among the reads of that memory. */
  private static String read(Circuit circuit, int place, String what) {
    Memory memory = memory(circuit.nodes().get(place));
    long number =
        circuit.nodes().subList(0, place).stream()
            .filter(node -> isRamRead(node) && memory(node).equals(memory))
            .count();
    return memory.name() + "." + what + number;
  }

  private void compute(Block block, Map<String, int[]> given) {
    for (int place = 0; place < block.values.length; place++) {
      Node node = block.circuit.nodes().get(place);
      if (block.values[place] == null
          && node.operands().stream().allMatch(operand -> block.of(operand) != null)) {
        block.values[place] = bits(block, place, given);
        int[] bits = block.values[place];
        if (bits != null) {
          block
              .circuit
              .nameOf(place)
              .ifPresent(name -> points.putIfAbsent(block.path + name, bits));
        }
      }
    }
  }

  private int[] bits(Block block, int place, Map<String, int[]> given) {
    Node node = block.circuit.nodes().get(place);
    if (node instanceof Node.Input input) {
      return given.get(input.port());
    } else if (node instanceof Node.Register register) {
      return inputs.get(block.path + register.name() + ".q");
    } else if (isRamRead(node)) {
      return inputs.get(block.path + read(block.circuit, place, "word"));
    } else if (node instanceof Node.DirectRead read) {
      return gates.select(block.of(read.address()), words(block, read.memory()));
    } else if (node instanceof Node.InstanceOutput output) {
      return outputOf(block, output);
    }
    return gates.bits(node, block.values);
  }

  private List<int[]> words(Block block, Memory memory) {
    List<int[]> words = new ArrayList<>();
    for (int row = 0; row < memory.depth(); row++) {
      words.add(inputs.get(block.path + memory.name() + "." + row + ".q"));
    }
    return words;
  }

  private int[] outputOf(Block parent, Node.InstanceOutput output) {
    Circuit.Instance instance = parent.circuit.instances().get(output.instance());
    if (parent.inside[output.instance()] == null) {
      parent.inside[output.instance()] =
          new Block(instance.circuit(), parent.path + instance.name() + "/");
    }
    Block inside = parent.inside[output.instance()];
    Signal driver = instance.circuit().drivers().get(output.port());
    if (inside.of(driver) == null) {
      compute(inside, given(parent, instance));
    }
    String key = instance.circuit().port(output.port()).key();
    points.put(parent.path + instance.name() + "." + key, inside.of(driver));
    return inside.of(driver);
  }

  private static Map<String, int[]> given(Block parent, Circuit.Instance instance) {
    Map<String, int[]> given = new LinkedHashMap<>();
    int next = 0;
    for (Port port : instance.circuit().ports()) {
      if (port.direction() == Port.Direction.INPUT) {
        given.put(port.name(), parent.of(instance.inputs().get(next++)));
      }
    }
    return given;
  }

  private void finish(Block block, Map<String, int[]> given) {
    compute(block, given);
    for (int i = 0; i < block.inside.length; i++) {
      finish(block.inside[i], given(block, block.circuit.instances().get(i)));
    }
  }

  private void stateOutputs(Block block) {
    Circuit circuit = block.circuit;
    circuit
        .registerDrives()
        .forEach(
            (node, drive) -> {
              String name = block.path + ((Node.Register) circuit.nodes().get(node)).name();
              Optional<Cleared> cleared = Cleared.of(circuit, node, drive.next());
              output(name + ".d", block.of(cleared.map(Cleared::otherwise).orElse(drive.next())));
              cleared.ifPresent(c -> output(name + ".clear", block.of(c.when())));
              drive.enable().ifPresent(enable -> output(name + ".enable", block.of(enable)));
            });
    for (int place = 0; place < circuit.nodes().size(); place++) {
      Node node = circuit.nodes().get(place);
      if (node instanceof Node.RegisteredRead read) {
        output(block.path + read(circuit, place, "address"), block.of(read.address()));
        String enable = block.path + read(circuit, place, "read");
        read.enable().ifPresent(signal -> output(enable, block.of(signal)));
      } else if (isRamRead(node)) {
        Signal address = ((Node.DirectRead) node).address();
        output(block.path + read(circuit, place, "address"), block.of(address));
      }
    }
    circuit.memoryWrites().forEach((memory, write) -> writeOutputs(block, memory, write));
    for (Block inside : block.inside) {
      stateOutputs(inside);
    }
  }

  private void writeOutputs(Block block, Memory memory, Circuit.MemoryWrite write) {
    String name = block.path + memory.name();
    if (memory.kind() != Memory.Kind.REGISTERS) {
      output(name + ".write", block.of(write.enable()));
      output(name + ".write_address", block.of(write.address()));
      output(name + ".data", block.of(write.data()));
      return;
    }
    int[] enable = block.of(write.enable());
    int[] address = block.of(write.address());
    int[] data = block.of(write.data());
    int keeps = gates.not(block.of(write.clear().orElseThrow())[0]);
    List<int[]> words = words(block, memory);
    int lane = memory.width() / memory.lanes();
    for (int row = 0; row < memory.depth(); row++) {
      int[] next = new int[memory.width()];
      int[] digits = new int[address.length + 1];
      for (int bit = 0; bit < address.length; bit++) {
        digits[bit] = (row >> bit & 1) != 0 ? address[bit] : gates.not(address[bit]);
      }
      for (int bit = 0; bit < next.length; bit++) {
        digits[address.length] = enable[bit / lane];
        int written = gates.tree(GateNetwork.gate(Operation.AND), digits.clone());
        int[] kept = {words.get(row)[bit]};
        int value = gates.muxAll(written, kept, new int[] {data[bit]})[0];
        next[bit] = gates.tree(GateNetwork.gate(Operation.AND), new int[] {keeps, value});
      }
      output(name + "." + row + ".d", next);
    }
  }
}

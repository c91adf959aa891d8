package dev.lengthwise.circuit;

import dev.lengthwise.name.HdlName;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeMap;

/** Writes a circuit: ports, state and blocks inside it, beside the logic of its base class. */
public final class CircuitBuilder extends LogicBuilder {

  static final List<String> CLOCK_AND_RESET = List.of("clock", "reset", "reset_n");

  final String summary;
  final Map<String, String> facts = new LinkedHashMap<>();
  final List<Port> ports = new ArrayList<>();
  final Map<Integer, String> names = new LinkedHashMap<>();
  final Map<Integer, String> suggestions = new LinkedHashMap<>();
  final Map<Integer, String> comments = new LinkedHashMap<>();
  final Map<Integer, String> sections = new LinkedHashMap<>();
  final Map<String, Signal> drivers = new LinkedHashMap<>();
  final Map<Integer, Circuit.RegisterDrive> registerDrives = new LinkedHashMap<>();
  final Map<Memory, Circuit.MemoryWrite> memoryWrites = new LinkedHashMap<>();
  final List<Circuit.Instance> instances = new ArrayList<>();
  private final List<PlacedInstance> placed = new ArrayList<>();
  Reset reset = Reset.ACTIVE_HIGH;
  private final List<Integer> registers = new ArrayList<>();
  private final List<Memory> memories = new ArrayList<>();

  CircuitBuilder(String name, String summary) {
    super(HdlName.requireMade("circuit", name));
    this.summary = Objects.requireNonNull(summary, "summary");
  }

  /**
   * Adds a line to the head of the emitted file.
   *
   * @param fact what it is about, in a word or two
   * @param value any text
   * @return this builder
   */
  public CircuitBuilder fact(String fact, String value) {
    facts.put(Objects.requireNonNull(fact, "fact"), Objects.requireNonNull(value, "value"));
    return this;
  }

  /**
   * Sets how registers are reset; {@link Reset#ACTIVE_HIGH} if not called.
   *
   * @param style the reset
   * @return this builder
   */
  public CircuitBuilder reset(Reset style) {
    reset = Objects.requireNonNull(style, "style");
    return this;
  }

  /**
   * Adds an input port.
   *
   * @param port a legal name, which it has unless a user's port has it
   * @param width bits
   * @param doc what it carries
   * @return its signal
   * @throws IllegalArgumentException if the name is not legal or taken, or the width out of range
   */
  public Signal input(String port, int width, String doc) {
    addPort(new Port(port, Port.Direction.INPUT, width, doc));
    return add(new Node.Input(port, width));
  }

  /**
   * Adds an input port that a user named. Ports that wished for the same name get another.
   *
   * @param port a legal name
   * @param width bits
   * @param doc what it carries
   * @return its signal
   * @throws IllegalArgumentException if the name is not legal or that of another such port, or the
   *     width out of range
   */
  public Signal userInput(String port, int width, String doc) {
    String key = Port.keyOfUser(port);
    addPort(new Port(port, Port.Direction.INPUT, width, doc, key));
    return add(new Node.Input(key, width));
  }

  /**
   * Adds an output port.
   *
   * @param port a legal name, which it has unless a user's port has it
   * @param driver the signal that drives it
   * @param doc what it carries
   * @return this builder
   * @throws IllegalArgumentException if the name is not legal or taken
   */
  public CircuitBuilder output(String port, Signal driver, String doc) {
    Objects.requireNonNull(port, "port");
    Objects.requireNonNull(doc, "doc");
    addPort(new Port(port, Port.Direction.OUTPUT, own(driver).width(), doc));
    drivers.put(port, driver);
    return this;
  }

  private void addPort(Port port) {
    if (CLOCK_AND_RESET.contains(port.name())) {
      throw fault("clock and reset are ports of every clocked block", "port " + port.name());
    }
    if (ports.stream().anyMatch(p -> p.key().equals(port.key()))) {
      throw fault("a port is given once", port.name() + " again");
    }
    ports.add(port);
  }

  /**
   * Wishes a name for a signal in the emitted text.
   *
   * @param signal the signal
   * @param wish a legal name
   * @return the signal
   * @throws IllegalArgumentException if the name is not legal
   */
  public Signal named(Signal signal, String wish) {
    Objects.requireNonNull(wish, "wish");
    names.putIfAbsent(own(signal).node(), HdlName.requireMade("signal", wish));
    return signal;
  }

  /**
   * Suggests a name for a signal that the emitted text may also write inside the expression that
   * reads it; a {@linkplain #named named} one stands alone, unless it turns out constant.
   *
   * @param signal the signal
   * @param wish a legal name
   * @return the signal
   * @throws IllegalArgumentException if the name is not legal
   */
  public Signal suggested(Signal signal, String wish) {
    Objects.requireNonNull(wish, "wish");
    suggestions.putIfAbsent(own(signal).node(), HdlName.requireMade("signal", wish));
    return signal;
  }

  /**
   * Puts a comment on a signal in the emitted text.
   *
   * @param signal the signal
   * @param text why it is there
   * @return the signal
   */
  public Signal comment(Signal signal, String text) {
    Objects.requireNonNull(text, "text");
    comments.put(own(signal).node(), Objects.requireNonNull(text, "text"));
    return signal;
  }

  /**
   * Starts a section of the emitted text with the next node.
   *
   * @param heading a few words
   * @return this builder
   */
  public CircuitBuilder section(String heading) {
    sections.put(nodes.size(), Objects.requireNonNull(heading, "heading"));
    return this;
  }

  /**
   * Adds a register; {@link #drive} connects it later.
   *
   * @param register a legal name
   * @param width bits
   * @param resetValue its value after reset, in [0, 2^width)
   * @return its output
   * @throws IllegalArgumentException if the name is not legal or the value does not fit
   */
  public Signal register(String register, int width, long resetValue) {
    BigInteger value = new BigInteger(Long.toUnsignedString(resetValue));
    if (value.bitLength() > width) {
      throw fault("the reset value of " + register + " must fit in " + width + " bits", value);
    }
    return register(register, width, Optional.of(value));
  }

  /**
   * Adds a register that is not reset, for data that nothing reads before it was taken: only what
   * says whether it was, such as a valid bit, needs a reset. {@link #drive} connects it later.
   *
   * @param register a legal name
   * @param width bits
   * @return its output
   * @throws IllegalArgumentException if the name is not legal
   */
  public Signal dataRegister(String register, int width) {
    return register(register, width, Optional.empty());
  }

  private Signal register(String register, int width, Optional<BigInteger> resetValue) {
    Signal output =
        add(new Node.Register(HdlName.requireMade("register", register), width, resetValue));
    registers.add(output.node());
    return named(output, register);
  }

  /**
   * Connects a register that takes a value at every clock edge.
   *
   * @param register the register's output
   * @param next the value, as wide
   * @throws IllegalArgumentException if it is no register, connected already, or of another width
   */
  public void drive(Signal register, Signal next) {
    Objects.requireNonNull(next, "next");
    drive(register, next, Optional.empty());
  }

  /**
   * Connects a register that takes a value at enabled clock edges.
   *
   * @param register the register's output
   * @param next the value, as wide
   * @param enable one bit
   * @throws IllegalArgumentException if it is no register, connected already, or of another width
   */
  public void drive(Signal register, Signal next, Signal enable) {
    Objects.requireNonNull(next, "next");
    drive(register, next, Optional.of(enable));
  }

  private void drive(Signal register, Signal next, Optional<Signal> enable) {
    if (!(nodes.get(own(register).node()) instanceof Node.Register r)) {
      throw fault("a register is expected", nodes.get(register.node()));
    }
    if (own(next).width() != register.width()) {
      throw fault(
          "register " + r.name() + " must take " + register.width() + " bits", next.width());
    }
    enable.ifPresent(e -> checkBit("the enable of " + r.name(), e, 1));
    if (registerDrives.put(register.node(), new Circuit.RegisterDrive(next, enable)) != null) {
      throw fault("a register is driven once", r.name() + " again");
    }
  }

  private void checkBit(String what, Signal signal, int width) {
    if (own(signal).width() != width) {
      throw fault(what + " must have a width of " + width, signal.width());
    }
  }

  /**
   * Adds a memory; {@link #write} connects its write port.
   *
   * @param memory its name and shape
   * @return the memory
   * @throws IllegalArgumentException if the name is taken
   */
  public Memory memory(Memory memory) {
    Objects.requireNonNull(memory, "memory");
    if (memories.stream().anyMatch(m -> m.name().equals(memory.name()))) {
      throw fault("a memory is given once", memory.name() + " again");
    }
    memories.add(memory);
    return memory;
  }

  /**
   * Reads a memory: one cycle later if it is block RAM, else in the same cycle.
   *
   * @param memory a memory of this circuit
   * @param address the address
   * @return the word
   * @throws IllegalArgumentException if the memory is unknown or the address of another width
   */
  public Signal read(Memory memory, Signal address) {
    Objects.requireNonNull(address, "address");
    checkMemory(memory, address);
    return memory.kind() == Memory.Kind.BLOCK
        ? add(new Node.RegisteredRead(memory, address, Optional.empty()))
        : add(new Node.DirectRead(memory, address));
  }

  /**
   * Reads block RAM one cycle later, at enabled clock edges.
   *
   * @param memory a memory of this circuit of kind {@link Memory.Kind#BLOCK}
   * @param address the address
   * @param enable one bit; while it is 0 the word stays
   * @return the word
   * @throws IllegalArgumentException if the memory is unknown or no block RAM, or a width is wrong
   */
  public Signal read(Memory memory, Signal address, Signal enable) {
    Objects.requireNonNull(address, "address");
    Objects.requireNonNull(enable, "enable");
    checkMemory(memory, address);
    checkBit("the read enable of " + memory.name(), enable, 1);
    if (memory.kind() != Memory.Kind.BLOCK) {
      throw fault("only block RAM has a read enable", memory.name());
    }
    return add(new Node.RegisteredRead(memory, address, Optional.of(enable)));
  }

  /**
   * Connects the write port of a memory that cannot be cleared.
   *
   * @param memory a memory of this circuit, of a kind other than {@link Memory.Kind#REGISTERS}
   * @param enable one bit for each write lane, lane 0 in bit 0
   * @param address the address
   * @param data the word
   * @throws IllegalArgumentException if the memory is unknown, connected already or of registers,
   *     or a width is wrong
   */
  public void write(Memory memory, Signal enable, Signal address, Signal data) {
    Objects.requireNonNull(enable, "enable");
    Objects.requireNonNull(address, "address");
    Objects.requireNonNull(data, "data");
    write(memory, enable, address, data, Optional.empty());
  }

  /**
   * Connects the write port of a memory of registers.
   *
   * @param memory a memory of this circuit, of kind {@link Memory.Kind#REGISTERS}
   * @param enable one bit for each write lane, lane 0 in bit 0
   * @param address the address
   * @param data the word
   * @param clear one bit: all words become 0, whatever is written
   * @throws IllegalArgumentException if the memory is unknown, connected already or of another
   *     kind, or a width is wrong
   */
  public void write(Memory memory, Signal enable, Signal address, Signal data, Signal clear) {
    Objects.requireNonNull(enable, "enable");
    Objects.requireNonNull(address, "address");
    Objects.requireNonNull(data, "data");
    write(memory, enable, address, data, Optional.of(clear));
  }

  private void write(
      Memory memory, Signal enable, Signal address, Signal data, Optional<Signal> clear) {
    checkMemory(memory, address);
    if (clear.isPresent() != (memory.kind() == Memory.Kind.REGISTERS)) {
      throw fault("a memory of registers, and no other, is cleared", memory.name());
    }
    clear.ifPresent(signal -> checkBit("the clear of " + memory.name(), signal, 1));
    checkBit("the write enable of " + memory.name(), enable, memory.lanes());
    checkBit("the data of " + memory.name(), data, memory.width());
    if (memoryWrites.put(memory, new Circuit.MemoryWrite(enable, address, data, clear)) != null) {
      throw fault("a memory has one write port", memory.name() + " again");
    }
  }

  private void checkMemory(Memory memory, Signal address) {
    if (!memories.contains(memory)) {
      throw fault("a memory of this circuit is expected", memory.name());
    }
    checkBit("the address of " + memory.name(), address, memory.addressBits());
  }

  /** A block inside and what its inputs are connected to, by port. */
  private record PlacedInstance(String name, Circuit circuit, Map<String, Signal> inputs) {

    List<String> missing() {
      return circuit.ports().stream()
          .filter(port -> port.direction() == Port.Direction.INPUT)
          .filter(port -> !inputs.containsKey(port.name()))
          .map(Port::name)
          .toList();
    }
  }

  /**
   * Puts another block inside this one.
   *
   * @param instance a legal name
   * @param circuit the block
   * @param inputs its input ports, by {@link Port#key}, and their signals; those that no output
   *     follows in the same cycle may be missing and are connected later by {@link #connect}
   * @return its output ports, by {@link Port#key}, and their signals
   * @throws IllegalArgumentException if a name is not legal or taken, or an input is missing,
   *     unknown or of another width
   */
  public Map<String, Signal> instance(
      String instance, Circuit circuit, Map<String, Signal> inputs) {
    HdlName.requireMade("instance", instance);
    if (placed.stream().anyMatch(i -> i.name().equals(instance))) {
      throw fault("an instance is given once", instance + " again");
    }
    PlacedInstance block = new PlacedInstance(instance, circuit, new LinkedHashMap<>());
    new TreeMap<>(inputs).forEach((port, signal) -> connect(block, port, signal));
    for (String port : block.missing()) {
      if (circuit.followed().values().stream().anyMatch(read -> read.contains(port))) {
        throw fault("instance " + instance + " needs every input", "none for " + port);
      }
    }
    placed.add(block);
    Map<String, Signal> outputs = new LinkedHashMap<>();
    for (Port port : circuit.ports()) {
      if (port.direction() == Port.Direction.OUTPUT) {
        List<Signal> read =
            circuit.followed().get(port.name()).stream().map(block.inputs()::get).toList();
        outputs.put(
            port.key(),
            add(new Node.InstanceOutput(placed.size() - 1, port.name(), port.width(), read)));
      }
    }
    return outputs;
  }

  /**
   * Connects an input of a block inside that was missing when the block was put there.
   *
   * @param instance the instance's name
   * @param port the input's {@link Port#key}, one that no output follows in the same cycle
   * @param signal the signal, as wide
   * @throws IllegalArgumentException if there is no such instance or input, or the input is
   *     connected already or of another width
   */
  public void connect(String instance, String port, Signal signal) {
    Objects.requireNonNull(instance, "instance");
    Objects.requireNonNull(port, "port");
    Objects.requireNonNull(signal, "signal");
    PlacedInstance block =
        placed.stream()
            .filter(i -> i.name().equals(instance))
            .findFirst()
            .orElseThrow(() -> fault("an instance of this circuit is expected", instance));
    connect(block, port, signal);
  }

  private void connect(PlacedInstance block, String key, Signal signal) {
    Port port =
        block.circuit().ports().stream()
            .filter(p -> p.key().equals(key) && p.direction() == Port.Direction.INPUT)
            .findFirst()
            .orElseThrow(() -> fault("instance " + block.name() + " has no such input", key));
    checkBit("input " + port.name() + " of " + block.name(), signal, port.width());
    if (block.inputs().putIfAbsent(port.name(), signal) != null) {
      throw fault("an input of " + block.name() + " is connected once", port.name() + " again");
    }
  }

  /**
   * Builds the circuit.
   *
   * @return the circuit
   * @throws IllegalStateException if there is no output, or a register, memory or input of a block
   *     inside is not connected; lists all of them
   */
  public Circuit build() {
    List<String> faults = new ArrayList<>();
    if (drivers.isEmpty()) {
      faults.add("circuit " + name + ": at least one output is needed, found none");
    }
    for (int node : registers) {
      if (!registerDrives.containsKey(node)) {
        faults.add(
            "circuit " + name + ": a register must be driven, found none for " + names.get(node));
      }
    }
    for (Memory memory : memories) {
      if (!memoryWrites.containsKey(memory)) {
        faults.add(
            "circuit "
                + name
                + ": a memory must be written, found no write port of "
                + memory.name());
      }
    }
    for (PlacedInstance instance : placed) {
      for (String port : instance.missing()) {
        faults.add(
            String.format(
                Locale.ROOT,
                "circuit %s: instance %s needs every input, found none for %s",
                name,
                instance.name(),
                port));
      }
      if (instance.circuit().isReset() && instance.circuit().reset() != reset) {
        faults.add(
            String.format(
                Locale.ROOT,
                "circuit %s: a block inside must be reset alike, found %s in %s",
                name,
                instance.circuit().reset(),
                instance.name()));
      }
    }
    if (!faults.isEmpty()) {
      throw new IllegalStateException(String.join("\n", faults));
    }
    instances.clear();
    for (PlacedInstance block : placed) {
      List<Signal> inputs = new ArrayList<>();
      for (Port port : block.circuit().ports()) {
        if (port.direction() == Port.Direction.INPUT) {
          inputs.add(block.inputs().get(port.name()));
        }
      }
      instances.add(new Circuit.Instance(block.name(), block.circuit(), inputs));
    }
    return BlockNames.apart(new Circuit(this, new PortNames(this)));
  }
}

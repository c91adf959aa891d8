package dev.lengthwise.circuit;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;

/**
 * One block of hardware. Immutable; compared by identity.
 *
 * <p>Most users never build one: realising a description yields circuits, and the emitters print
 * them.
 */
public final class Circuit {

  private final String name;
  private final String summary;
  private final Map<String, String> facts;
  private final Reset reset;
  private final List<Port> ports;
  private final List<Node> nodes;
  private final Map<Integer, String> names;
  private final Map<Integer, String> suggestions;
  private final Map<Integer, String> comments;
  private final Map<Integer, String> sections;
  private final Map<String, Signal> drivers;
  private final Map<Integer, RegisterDrive> registerDrives;
  private final Map<Memory, MemoryWrite> memoryWrites;
  private final List<Instance> instances;
  private final Map<String, Set<String>> followed;

  /**
   * What a register takes at the clock edge.
   *
   * @param next the value
   * @param enable one bit, or empty for every edge
   */
  public record RegisterDrive(Signal next, Optional<Signal> enable) {
    /**
     * Checks for null.
     *
     * @param next see RegisterDrive
     * @param enable see RegisterDrive
     */
    public RegisterDrive {
      Objects.requireNonNull(next, "next");
      Objects.requireNonNull(enable, "enable");
    }
  }

  /**
   * What is written to a memory at the clock edge.
   *
   * @param enable one bit for each write lane, lane 0 in bit 0
   * @param address the address
   * @param data the word
   * @param clear one bit that makes all words 0 instead; there for a memory of registers
   */
  public record MemoryWrite(Signal enable, Signal address, Signal data, Optional<Signal> clear) {
    /**
     * Checks for null.
     *
     * @param enable see MemoryWrite
     * @param address see MemoryWrite
     * @param data see MemoryWrite
     * @param clear see MemoryWrite
     */
    public MemoryWrite {
      Objects.requireNonNull(enable, "enable");
      Objects.requireNonNull(address, "address");
      Objects.requireNonNull(data, "data");
      Objects.requireNonNull(clear, "clear");
    }
  }

  /**
   * Another block inside this one.
   *
   * @param name a legal name
   * @param circuit the block
   * @param inputs the signals at its inputs, in the order of its ports
   */
  public record Instance(String name, Circuit circuit, List<Signal> inputs) {

    /**
     * Copies the list.
     *
     * @param name see Instance
     * @param circuit see Instance
     * @param inputs see Instance
     */
    public Instance {
      Objects.requireNonNull(name, "name");
      Objects.requireNonNull(circuit, "circuit");
      inputs = List.copyOf(inputs);
    }
  }

  Circuit(CircuitBuilder builder, PortNames named) {
    this.name = builder.name;
    this.summary = builder.summary;
    this.facts = ordered(builder.facts);
    this.reset = builder.reset;
    this.ports = List.copyOf(named.ports);
    this.nodes = List.copyOf(named.nodes);
    this.names = ordered(builder.names);
    this.suggestions = ordered(builder.suggestions);
    this.comments = ordered(builder.comments);
    this.sections = ordered(builder.sections);
    this.drivers = ordered(named.drivers);
    this.registerDrives = ordered(builder.registerDrives);
    this.memoryWrites = ordered(builder.memoryWrites);
    this.instances = List.copyOf(builder.instances);
    Map<String, Set<String>> inputs = new LinkedHashMap<>();
    drivers.forEach((port, driver) -> inputs.put(port, inputsOf(driver)));
    this.followed = Collections.unmodifiableMap(inputs);
  }

  private Circuit(Circuit other, String name, List<Instance> instances) {
    this.name = name;
    this.summary = other.summary;
    this.facts = other.facts;
    this.reset = other.reset;
    this.ports = other.ports;
    this.nodes = other.nodes;
    this.names = other.names;
    this.suggestions = other.suggestions;
    this.comments = other.comments;
    this.sections = other.sections;
    this.drivers = other.drivers;
    this.registerDrives = other.registerDrives;
    this.memoryWrites = other.memoryWrites;
    this.instances = List.copyOf(instances);
    this.followed = other.followed;
  }

  /** Returns the same block under another name, with other blocks in the places of those inside. */
  Circuit with(String otherName, List<Instance> others) {
    return new Circuit(this, otherName, others);
  }

  private Set<String> inputsOf(Signal driver) {
    BitSet reached = new BitSet();
    reached.set(driver.node());
    Set<String> inputs = new LinkedHashSet<>();
    for (int at = reached.length() - 1; at >= 0; at = reached.previousSetBit(at - 1)) {
      if (nodes.get(at) instanceof Node.Input input) {
        inputs.add(input.port());
      }
      nodes.get(at).operands().forEach(operand -> reached.set(operand.node()));
    }
    return Collections.unmodifiableSet(inputs);
  }

  private static <K, V> Map<K, V> ordered(Map<K, V> map) {
    return Collections.unmodifiableMap(new LinkedHashMap<>(map));
  }

  /**
   * Starts a block.
   *
   * @param name a legal name
   * @param summary what the block does, in a sentence or two
   * @return a builder
   * @throws IllegalArgumentException if the name is not legal
   */
  public static CircuitBuilder named(String name, String summary) {
    return new CircuitBuilder(name, summary);
  }

  /**
   * Returns the block's name.
   *
   * @return a legal name
   */
  public String name() {
    return name;
  }

  /**
   * Returns what the block does.
   *
   * @return any text
   */
  public String summary() {
    return summary;
  }

  /**
   * Returns what else the head of the emitted file says, such as cost and origin.
   *
   * @return name to value, in input order; any text
   */
  public Map<String, String> facts() {
    return facts;
  }

  /**
   * Returns how registers are reset.
   *
   * @return the reset
   */
  public Reset reset() {
    return reset;
  }

  /**
   * Tells whether the block has a clock.
   *
   * @return true if it, or a block inside it, has a register or a memory
   */
  public boolean isClocked() {
    return !registerDrives.isEmpty()
        || !memoryWrites.isEmpty()
        || instances.stream().anyMatch(instance -> instance.circuit().isClocked());
  }

  /**
   * Tells whether the block has a reset port.
   *
   * @return true if a register or a memory of registers, of it or of a block inside, is reset
   */
  public boolean isReset() {
    return reset != Reset.NONE
        && (nodes.stream().anyMatch(n -> n instanceof Node.Register r && r.resetValue().isPresent())
            || memoryWrites.keySet().stream().anyMatch(m -> m.kind() == Memory.Kind.REGISTERS)
            || instances.stream().anyMatch(instance -> instance.circuit().isReset()));
  }

  /**
   * Returns the declared ports, in input order; clock and reset are not among them.
   *
   * @return the ports
   */
  public List<Port> ports() {
    return ports;
  }

  /**
   * Returns a port.
   *
   * @param portName its name
   * @return the port
   * @throws IllegalArgumentException if there is none
   */
  public Port port(String portName) {
    Objects.requireNonNull(portName, "portName");
    return ports.stream()
        .filter(port -> port.name().equals(portName))
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    this + ": the name of a port is expected, found " + portName));
  }

  /**
   * Returns the nodes; the operands of each come before it.
   *
   * @return the nodes, signal i being the output of node i
   */
  public List<Node> nodes() {
    return nodes;
  }

  /**
   * Returns the node that computes a signal.
   *
   * @param signal a signal of this circuit
   * @return the node
   */
  public Node node(Signal signal) {
    return nodes.get(signal.node());
  }

  /**
   * Returns the name wished for a node's output.
   *
   * @param node the node's place
   * @return a legal name, or empty
   */
  public Optional<String> nameOf(int node) {
    return Optional.ofNullable(names.get(node));
  }

  /**
   * Returns the name suggested for a node's output, should it get a signal of its own.
   *
   * @param node the node's place
   * @return a legal name, or empty
   */
  public Optional<String> suggestionFor(int node) {
    return Optional.ofNullable(suggestions.get(node));
  }

  /**
   * Returns the comment on a node.
   *
   * @param node the node's place
   * @return any text, or empty
   */
  public Optional<String> commentOn(int node) {
    return Optional.ofNullable(comments.get(node));
  }

  /**
   * Returns the heading of the section that starts at a node.
   *
   * @param node the node's place
   * @return any text, or empty
   */
  public Optional<String> sectionAt(int node) {
    return Optional.ofNullable(sections.get(node));
  }

  /**
   * Returns what drives each output.
   *
   * @return output port to signal, in the order of the ports
   */
  public Map<String, Signal> drivers() {
    return drivers;
  }

  /**
   * Returns what drives each register.
   *
   * @return node of the register to its drive
   */
  public Map<Integer, RegisterDrive> registerDrives() {
    return registerDrives;
  }

  /**
   * Returns the memories and their write ports.
   *
   * @return memory to write port, in input order
   */
  public Map<Memory, MemoryWrite> memoryWrites() {
    return memoryWrites;
  }

  /**
   * Returns the blocks inside this one.
   *
   * @return the instances in input order
   */
  public List<Instance> instances() {
    return instances;
  }

  /**
   * Returns the inputs that each output follows in the same cycle. Other inputs count at the clock
   * edge only.
   *
   * @return output to names of inputs
   */
  public Map<String, Set<String>> followed() {
    return followed;
  }

  /**
   * Returns this block and all blocks inside it, each once, every block after those it contains.
   *
   * @return the blocks in compile order
   * @throws IllegalStateException if two different blocks share a name
   */
  public List<Circuit> blocks() {
    Map<String, Circuit> found = new LinkedHashMap<>();
    collect(found);
    return new ArrayList<>(found.values());
  }

  private void collect(Map<String, Circuit> found) {
    instances.forEach(instance -> instance.circuit().collect(found));
    found.putIfAbsent(name, this);
  }

  @Override
  public String toString() {
    return "circuit " + name;
  }
}

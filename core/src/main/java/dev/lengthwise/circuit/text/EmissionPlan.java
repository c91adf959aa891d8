package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * How a block is laid out as text, alike in every language: which nodes get a signal of their own,
 * under which names and in which order, and which are written inside the expressions that read
 * them.
 *
 * <p>A node gets a signal if it has a name or a comment, is state, an instance's output, a lookup
 * or a choice, is read more than once, is read where a language asks for a name, or would make an
 * expression long. What no output depends on is left out.
 */
public final class EmissionPlan {

  /** The most nodes inside one operand of an expression. */
  private static final int LARGEST_OPERAND = 10;

  private final Circuit circuit;
  private final List<Node> nodes;
  private final Usage usage;
  private final SignalNames names;
  private final String caution;
  private final String lutBlock;
  private final BitSet declared = new BitSet();
  private final Map<Integer, String> placedInPorts = new LinkedHashMap<>();
  private final Map<Integer, String> headings = new LinkedHashMap<>();

  EmissionPlan(Circuit circuit, EmissionPlans plans) {
    this.circuit = circuit;
    this.nodes = Folding.of(circuit);
    this.usage = new Usage(circuit, nodes);
    this.names = new SignalNames(circuit, nodes, plans);
    this.caution = plans.caution(circuit);
    this.lutBlock = plans.lutBlock();
    placeInPorts();
    declare();
    names.nameSignals(statements(), placedInPorts, usage);
    findHeadings();
  }

  /**
   * Plans a block alone; see {@link EmissionPlans} for all of a design.
   *
   * @param circuit the block
   * @return the plan
   */
  public static EmissionPlan of(Circuit circuit) {
    return new EmissionPlans(circuit).of(circuit);
  }

  /** Tells whether something inside the block is called so, in the text made until now. */
  boolean names(String name) {
    return names.allocator.isTaken(name);
  }

  private void placeInPorts() {
    circuit
        .drivers()
        .forEach(
            (port, driver) -> {
              int at = driver.node();
              Node node = nodes.get(at);
              boolean plain =
                  node instanceof Node.Input
                      || node instanceof Node.Constant
                      || node instanceof Node.Slice
                      || node instanceof Node.Register
                      || node instanceof Node.RegisteredRead;
              if (!plain
                  && usage.reads[at] == 1
                  && circuit.nameOf(at).map(port::equals).orElse(true)) {
                placedInPorts.put(at, port);
              }
            });
  }

  private void declare() {
    int[] size = new int[nodes.size()];
    for (int at = 0; at < nodes.size(); at++) {
      Node node = nodes.get(at);
      if (usage.live.get(at) && !(node instanceof Node.Input)) {
        size[at] = 1;
        for (Signal operand : node instanceof Node.Slice ? List.<Signal>of() : node.operands()) {
          size[at] += declared.get(operand.node()) ? 1 : Math.max(1, size[operand.node()]);
        }
        if (needsSignal(at, size[at])) {
          declared.set(at);
        }
      }
    }
  }

  private boolean needsSignal(int at, int size) {
    Node node = nodes.get(at);
    boolean constant =
        node instanceof Node.Constant && !(circuit.nodes().get(at) instanceof Node.Constant);
    if (placedInPorts.containsKey(at)
        || (circuit.nameOf(at).isPresent() && !constant)
        || circuit.commentOn(at).isPresent()
        || usage.sliceable.get(at)) {
      return true;
    }
    if (node instanceof Node.Constant || node instanceof Node.Slice) {
      return false;
    }
    boolean invertedSignal =
        node instanceof Node.Not not
            && (nodes.get(not.source().node()) instanceof Node.Input
                || nodes.get(not.source().node()) instanceof Node.Slice
                || declared.get(not.source().node()));
    return node instanceof Node.Select
        || node instanceof Node.Lookup
        || node instanceof Node.Register
        || node instanceof Node.DirectRead
        || node instanceof Node.RegisteredRead
        || node instanceof Node.InstanceOutput
        || usage.simple.get(at)
        || (usage.reads[at] > 1 && !invertedSignal)
        || size > LARGEST_OPERAND;
  }

  private void findHeadings() {
    String pending = null;
    for (int at = 0; at < nodes.size(); at++) {
      pending = circuit.sectionAt(at).orElse(pending);
      if (declared.get(at) && pending != null) {
        headings.put(at, pending);
        pending = null;
      }
    }
  }

  /**
   * Returns the block.
   *
   * @return the circuit
   */
  public Circuit circuit() {
    return circuit;
  }

  /**
   * Returns what the head of the block's file says of figures and safety: all of it for the
   * outermost block of a design, one line for those inside.
   *
   * @return a text without line ends
   */
  public String caution() {
    return caution;
  }

  /**
   * Returns what to print for a signal: the node that computes it, or a simpler one with the same
   * value.
   *
   * @param signal a signal of the circuit
   * @return the node
   */
  public Node node(Signal signal) {
    return nodes.get(signal.node());
  }

  /**
   * Returns what to print at a place; see {@link #node(Signal)}.
   *
   * @param place the place of a node in the circuit
   * @return the node
   */
  public Node node(int place) {
    return nodes.get(place);
  }

  /**
   * Returns the nodes that have a name of their own, a signal or an output port; inputs are not
   * among them.
   *
   * @return their places, ascending
   */
  public List<Integer> statements() {
    return declared.stream().boxed().toList();
  }

  /**
   * Returns the name by which a node's value is read, if it has one: an input port, or a signal.
   *
   * @param place the place of a node
   * @return the name, or empty for a node that is written inside expressions
   */
  public Optional<String> name(int place) {
    return nodes.get(place) instanceof Node.Input input
        ? Optional.of(input.port())
        : Optional.ofNullable(names.signals.get(place));
  }

  /**
   * Tells whether a node's value goes to an output port directly, with no signal between.
   *
   * @param place the place of a node
   * @return true if its name is that of an output port
   */
  public boolean isPort(int place) {
    return placedInPorts.containsKey(place);
  }

  /**
   * Returns the output ports that are driven by an assignment of their own.
   *
   * @return port to driver, in the order of the ports
   */
  public Map<String, Signal> portAssignments() {
    Map<String, Signal> rest = new LinkedHashMap<>(circuit.drivers());
    placedInPorts.values().forEach(rest::remove);
    return Collections.unmodifiableMap(rest);
  }

  /**
   * Returns the heading of the section that starts with a statement.
   *
   * @param place the place of a node that has a name
   * @return any text, or empty
   */
  public Optional<String> heading(int place) {
    return Optional.ofNullable(headings.get(place));
  }

  /**
   * Returns the name for the constant that holds a lookup's words.
   *
   * @param place the place of a {@link Node.Lookup} that is a statement
   * @return a name used by nothing else
   */
  public String tableName(int place) {
    return names.tables.get(place);
  }

  /**
   * Returns the name for the instance that a LUT may become.
   *
   * @param place the place of a {@link Node.Lookup} that is a LUT and a statement
   * @return a name used by nothing else
   */
  public String cellName(int place) {
    return names.cells.get(place);
  }

  /** Tells whether there is a LUT. */
  boolean hasLuts() {
    return !names.cells.isEmpty();
  }

  /**
   * Returns the name of the block that LUTs may be instances of, one for the whole design.
   *
   * @return a name used by nothing else in any block
   */
  public String lutBlock() {
    return lutBlock;
  }

  /**
   * Returns the memories that an output depends on.
   *
   * @return the memories, in the order of the circuit
   */
  public List<Memory> memories() {
    return circuit.memoryWrites().keySet().stream().filter(usage.memories::contains).toList();
  }

  /**
   * Returns a memory's name.
   *
   * @param memory one of {@link #memories}
   * @return its name
   */
  public String memoryName(Memory memory) {
    return names.memories.get(memory);
  }

  /**
   * Returns the reads of a memory that yield a word at a clock edge.
   *
   * @param memory one of {@link #memories}
   * @return the places of the reads, ascending
   */
  public List<Integer> registeredReads(Memory memory) {
    return statements().stream()
        .filter(
            at -> nodes.get(at) instanceof Node.RegisteredRead read && read.memory().equals(memory))
        .toList();
  }

  /**
   * Returns the instances that an output depends on.
   *
   * @return their places in the circuit's list, ascending
   */
  public List<Integer> instances() {
    return usage.instances.stream().sorted().toList();
  }

  /**
   * Returns the outputs of an instance that are read.
   *
   * @param instance one of {@link #instances}
   * @return the places of the outputs, ascending
   */
  public List<Integer> instanceOutputs(int instance) {
    return statements().stream()
        .filter(
            at ->
                nodes.get(at) instanceof Node.InstanceOutput output
                    && output.instance() == instance)
        .toList();
  }

  /**
   * Returns an instance's name.
   *
   * @param instance one of {@link #instances}
   * @return its name
   */
  public String instanceName(int instance) {
    return names.instances.get(instance);
  }

  /**
   * Returns the signals for instance outputs that nothing reads, for languages or linters that want
   * every output connected.
   *
   * @param instance one of {@link #instances}
   * @return output port to a name that starts with {@code unused}
   */
  public Map<String, String> unreadOutputs(int instance) {
    Map<String, String> result = new LinkedHashMap<>();
    for (Port port : circuit.instances().get(instance).circuit().ports()) {
      String name = names.unreadOutputs.get(instanceName(instance) + "." + port.name());
      if (name != null) {
        result.put(port.name(), name);
      }
    }
    return result;
  }

  /**
   * Returns the bits of inputs and signals that nothing reads.
   *
   * @return the bits, in the order of the circuit; clock and reset first, with no node
   */
  public List<UnreadBits> unread() {
    List<UnreadBits> result = new ArrayList<>();
    if (circuit.isClocked() && !readsClock()) {
      result.add(new UnreadBits("clock", 1, 0, 1));
    }
    if (circuit.isReset() && !readsReset()) {
      result.add(
          new UnreadBits(circuit.reset() == Reset.ACTIVE_LOW ? "reset_n" : "reset", 1, 0, 1));
    }
    for (int at = 0; at < nodes.size(); at++) {
      if (nodes.get(at) instanceof Node.Input || (declared.get(at) && !isPort(at))) {
        int width = nodes.get(at).width();
        BitSet bits = usage.readBits[at];
        String name = name(at).orElseThrow();
        for (int low = bits.nextClearBit(0); low < width; ) {
          int next = bits.nextSetBit(low);
          int end = next < 0 ? width : next;
          result.add(new UnreadBits(name, width, low, end - low));
          low = bits.nextClearBit(end);
        }
      }
    }
    return result;
  }

  /**
   * Some neighbouring bits that nothing reads.
   *
   * @param name the input or signal
   * @param of its width in bits
   * @param low the lowest unread bit
   * @param width the number of unread bits
   */
  public record UnreadBits(String name, int of, int low, int width) {}

  private boolean readsClock() {
    return !memories().isEmpty()
        || anyRegister()
        || instances().stream().anyMatch(i -> circuit.instances().get(i).circuit().isClocked());
  }

  private boolean readsReset() {
    return statements().stream()
            .anyMatch(at -> nodes.get(at) instanceof Node.Register r && r.resetValue().isPresent())
        || memories().stream().anyMatch(memory -> memory.kind() == Memory.Kind.REGISTERS)
        || instances().stream().anyMatch(i -> circuit.instances().get(i).circuit().isReset());
  }

  private boolean anyRegister() {
    return statements().stream().anyMatch(at -> nodes.get(at) instanceof Node.Register);
  }

  /**
   * Returns a further name for this block, used by nothing else.
   *
   * @param wish any text
   * @return a legal name; each call gives another
   */
  public String newName(String wish) {
    return names.allocator.allocate(wish);
  }
}

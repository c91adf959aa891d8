package dev.lengthwise.circuit.simulate;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;

/**
 * Simulates a circuit cycle by cycle, with the blocks inside it.
 *
 * <p>A cycle is: {@link #set} inputs, read outputs with {@link #get}, {@link #tick}. Registers that
 * are reset start at their reset values, others and all memories at 0. Values are two-valued: what
 * is unknown in hardware is 0 here, but a word of block RAM that is read in the cycle that writes
 * it, of which a circuit must make no use, is the old one with every bit inverted. In a steady run
 * nothing is allocated. Not safe for use by several threads at once.
 */
public final class CircuitSimulator {

  private final Circuit circuit;
  private final List<Port> ports;
  private final int[] places;
  private final int[] inputs;
  private final int[] outputs;
  private final Program program;
  private final ClockedState state;
  private final long[] words;
  private boolean reset;
  private boolean settled;

  private CircuitSimulator(Circuit circuit) {
    this.circuit = circuit;
    this.ports = circuit.ports();
    Flattener flat = new Flattener(circuit);
    this.program = flat.program();
    this.state = flat.state();
    this.words = flat.initialWords();
    this.places = ports.stream().mapToInt(flat::place).toArray();
    this.inputs = handles(Port.Direction.INPUT);
    this.outputs = handles(Port.Direction.OUTPUT);
    state.initialize(words);
  }

  /**
   * Returns a simulator in the state after power-up, all inputs 0.
   *
   * @param circuit the circuit
   * @return a simulator
   */
  public static CircuitSimulator of(Circuit circuit) {
    return new CircuitSimulator(circuit);
  }

  private int[] handles(Port.Direction direction) {
    return IntStream.range(0, ports.size())
        .filter(i -> ports.get(i).direction() == direction)
        .toArray();
  }

  /**
   * Returns the handle of an input.
   *
   * @param port its name
   * @return the handle
   * @throws IllegalArgumentException if there is no such input
   */
  public int input(String port) {
    return handle(port, Port.Direction.INPUT);
  }

  /**
   * Returns the handle of an output.
   *
   * @param port its name
   * @return the handle
   * @throws IllegalArgumentException if there is no such output
   */
  public int output(String port) {
    return handle(port, Port.Direction.OUTPUT);
  }

  private int handle(String name, Port.Direction direction) {
    for (int i = 0; i < ports.size(); i++) {
      if (ports.get(i).name().equals(name) && ports.get(i).direction() == direction) {
        return i;
      }
    }
    throw new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "%s: an %s of the circuit is expected, found %s",
            circuit,
            direction.name().toLowerCase(Locale.ROOT),
            name));
  }

  /**
   * Sets an input of at most 64 bits.
   *
   * @param input its handle
   * @param value in [0, 2^width)
   * @throws IllegalArgumentException if the value does not fit or the handle is that of an output
   */
  public void set(int input, long value) {
    Port port = inputPort(input);
    if (port.width() < 64 && value >>> port.width() != 0) {
      throw misfit(port, Long.toHexString(value));
    }
    words[places[input]] = value;
    Arrays.fill(words, places[input] + 1, places[input] + Flattener.words(port.width()), 0);
    settled = false;
  }

  /**
   * Sets an input of any width.
   *
   * @param input its handle
   * @param value ceil(width / 64) words, the least significant first; copied
   * @throws IllegalArgumentException if the value does not fit or the handle is that of an output
   */
  public void set(int input, long[] value) {
    Port port = inputPort(input);
    checkLength(port, value);
    int top = value.length - 1;
    if (port.width() % 64 != 0 && value[top] >>> port.width() != 0) {
      throw misfit(port, Long.toHexString(value[top]) + " in word " + top);
    }
    System.arraycopy(value, 0, words, places[input], value.length);
    settled = false;
  }

  private Port inputPort(int handle) {
    Port port = ports.get(handle);
    if (port.direction() != Port.Direction.INPUT) {
      throw new IllegalArgumentException(circuit + ": only inputs are set, found " + port.name());
    }
    return port;
  }

  private static IllegalArgumentException misfit(Port port, String hex) {
    return new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "port %s: a value must fit in %d bits, found 0x%s",
            port.name(),
            port.width(),
            hex));
  }

  private static void checkLength(Port port, long[] value) {
    int length = Flattener.words(port.width());
    if (value.length != length) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "port %s: an array of %d words is expected, found %d",
              port.name(),
              length,
              value.length));
    }
  }

  /**
   * Sets the level of the reset, whichever way the port counts; it acts at the clock edges.
   *
   * @param active true to reset
   * @throws IllegalStateException if the circuit has no reset
   */
  public void reset(boolean active) {
    if (!circuit.isReset()) {
      throw new IllegalStateException(circuit + ": a reset is needed, found none");
    }
    reset = active;
  }

  /** Computes all signals from inputs and state; {@link #get} does so by itself when needed. */
  public void evaluate() {
    program.run(words);
    settled = true;
  }

  /** Gives one rising edge of the clock; has no effect on a block without one. */
  public void tick() {
    settle();
    state.edge(words, reset);
    settled = false;
  }

  private void settle() {
    if (!settled) {
      evaluate();
    }
  }

  /**
   * Returns the value of a port of at most 64 bits.
   *
   * @param port its handle
   * @return the value
   * @throws IllegalArgumentException if the port is wider
   */
  public long get(int port) {
    if (ports.get(port).width() > 64) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "port %s: a value of one word has at most 64 bits, found %d",
              ports.get(port).name(),
              ports.get(port).width()));
    }
    settle();
    return words[places[port]];
  }

  /**
   * Reads the value of a port of any width.
   *
   * @param port its handle
   * @param into ceil(width / 64) words, filled with the least significant first
   * @throws IllegalArgumentException if the array has another length
   */
  public void get(int port, long[] into) {
    checkLength(ports.get(port), into);
    settle();
    System.arraycopy(words, places[port], into, 0, into.length);
  }

  /**
   * Sets all inputs and returns all outputs in the same cycle, for circuits whose ports have at
   * most 64 bits.
   *
   * @param values the inputs in the order of the ports
   * @return the outputs in the order of the ports
   * @throws IllegalArgumentException if the number of values is wrong, a value does not fit or an
   *     output is wider
   */
  public long[] outputs(long... values) {
    if (values.length != inputs.length) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s: %d inputs are expected, found %d",
              circuit,
              inputs.length,
              values.length));
    }
    for (int i = 0; i < inputs.length; i++) {
      set(inputs[i], values[i]);
    }
    return Arrays.stream(outputs).mapToLong(this::get).toArray();
  }
}

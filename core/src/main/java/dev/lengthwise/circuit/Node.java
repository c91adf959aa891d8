package dev.lengthwise.circuit;

import java.math.BigInteger;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Stream;

/**
 * What computes a signal. Operands are signals of the same circuit. One long file, as a sealed
 * interface names all its kinds.
 */
public sealed interface Node {

  /** The widest signal, in bits. */
  int MOST_WIDTH = 1024;

  /**
   * Returns the width of the node's output.
   *
   * @return bits, in [1, {@value #MOST_WIDTH}]
   */
  int width();

  /**
   * Returns the signals that the node reads in the same cycle; for a register or a synchronous read
   * that is none, what they read counts one edge later.
   *
   * @return earlier signals of the circuit
   */
  List<Signal> operands();

  /**
   * Does something with each kind of node. Whatever has to handle all kinds implements this, so
   * that it does not compile where a new kind is forgotten.
   *
   * @param <R> what comes out
   */
  interface Visitor<R> {

    /**
     * Visits an input port.
     *
     * @param node the node
     * @return what comes out
     */
    R input(Input node);

    /**
     * Visits a constant.
     *
     * @param node the node
     * @return what comes out
     */
    R constant(Constant node);

    /**
     * Visits some bits.
     *
     * @param node the node
     * @return what comes out
     */
    R slice(Slice node);

    /**
     * Visits signals side by side.
     *
     * @param node the node
     * @return what comes out
     */
    R concat(Concat node);

    /**
     * Visits an inversion.
     *
     * @param node the node
     * @return what comes out
     */
    R not(Not node);

    /**
     * Visits an operation bit by bit.
     *
     * @param node the node
     * @return what comes out
     */
    R bitwise(Bitwise node);

    /**
     * Visits an operation over all bits.
     *
     * @param node the node
     * @return what comes out
     */
    R reduce(Reduce node);

    /**
     * Visits a sum or difference.
     *
     * @param node the node
     * @return what comes out
     */
    R sum(Sum node);

    /**
     * Visits a comparison.
     *
     * @param node the node
     * @return what comes out
     */
    R compare(Compare node);

    /**
     * Visits a selection.
     *
     * @param node the node
     * @return what comes out
     */
    R select(Select node);

    /**
     * Visits a lookup.
     *
     * @param node the node
     * @return what comes out
     */
    R lookup(Lookup node);

    /**
     * Visits a register.
     *
     * @param node the node
     * @return what comes out
     */
    R register(Register node);

    /**
     * Visits a read in the same cycle.
     *
     * @param node the node
     * @return what comes out
     */
    R directRead(DirectRead node);

    /**
     * Visits a read at a clock edge.
     *
     * @param node the node
     * @return what comes out
     */
    R registeredRead(RegisteredRead node);

    /**
     * Visits an output of a block inside.
     *
     * @param node the node
     * @return what comes out
     */
    R instanceOutput(InstanceOutput node);
  }

  /**
   * Hands the node to the visitor's method for its kind.
   *
   * @param visitor what to do with it
   * @param <R> what comes out
   * @return what the method returned
   */
  <R> R accept(Visitor<R> visitor);

  /** The two-operand logic operations. */
  enum Operation {
    /** Both. */
    AND,
    /** At least one. */
    OR,
    /** An odd number. */
    XOR
  }

  /**
   * An input port.
   *
   * @param port its name
   * @param width bits
   */
  record Input(String port, int width) implements Node {
    /**
     * Checks for null.
     *
     * @param port see Input
     * @param width see Input
     */
    public Input {
      Objects.requireNonNull(port, "port");
    }

    @Override
    public List<Signal> operands() {
      return List.of();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.input(this);
    }
  }

  /**
   * A constant.
   *
   * @param value in [0, 2^width)
   * @param width bits
   */
  record Constant(BigInteger value, int width) implements Node {
    /**
     * Checks for null.
     *
     * @param value see Constant
     * @param width see Constant
     */
    public Constant {
      Objects.requireNonNull(value, "value");
    }

    @Override
    public List<Signal> operands() {
      return List.of();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.constant(this);
    }
  }

  /**
   * Some bits of a signal.
   *
   * @param source the signal
   * @param low its bit that becomes bit 0
   * @param width bits
   */
  record Slice(Signal source, int low, int width) implements Node {
    /**
     * Checks for null.
     *
     * @param source see Slice
     * @param low see Slice
     * @param width see Slice
     */
    public Slice {
      Objects.requireNonNull(source, "source");
    }

    @Override
    public List<Signal> operands() {
      return List.of(source);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.slice(this);
    }
  }

  /**
   * Signals side by side.
   *
   * @param parts the signals, the least significant first
   */
  record Concat(List<Signal> parts) implements Node {
    /**
     * Copies the list.
     *
     * @param parts see Concat
     */
    public Concat {
      parts = List.copyOf(parts);
    }

    @Override
    public int width() {
      return parts.stream().mapToInt(Signal::width).sum();
    }

    @Override
    public List<Signal> operands() {
      return parts;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.concat(this);
    }
  }

  /**
   * Every bit inverted.
   *
   * @param source the signal
   */
  record Not(Signal source) implements Node {
    /**
     * Checks for null.
     *
     * @param source see Not
     */
    public Not {
      Objects.requireNonNull(source, "source");
    }

    @Override
    public int width() {
      return source.width();
    }

    @Override
    public List<Signal> operands() {
      return List.of(source);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.not(this);
    }
  }

  /**
   * Bit by bit logic of two or more signals of one width.
   *
   * @param operation the operation
   * @param operands the signals
   */
  record Bitwise(Operation operation, List<Signal> operands) implements Node {
    /**
     * Copies the list and checks for null.
     *
     * @param operation see Bitwise
     * @param operands see Bitwise
     */
    public Bitwise {
      Objects.requireNonNull(operation, "operation");
      operands = List.copyOf(operands);
    }

    @Override
    public int width() {
      return operands.get(0).width();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.bitwise(this);
    }
  }

  /**
   * One bit from all bits of a signal.
   *
   * @param operation the operation
   * @param source the signal
   */
  record Reduce(Operation operation, Signal source) implements Node {
    /**
     * Checks for null.
     *
     * @param operation see Reduce
     * @param source see Reduce
     */
    public Reduce {
      Objects.requireNonNull(operation, "operation");
      Objects.requireNonNull(source, "source");
    }

    @Override
    public int width() {
      return 1;
    }

    @Override
    public List<Signal> operands() {
      return List.of(source);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.reduce(this);
    }
  }

  /**
   * A sum or difference, modulo 2^width; operands are extended with zeros.
   *
   * @param subtract true for left minus right
   * @param left the first operand
   * @param right the second operand
   * @param width bits, at least those of the wider operand
   */
  record Sum(boolean subtract, Signal left, Signal right, int width) implements Node {
    /**
     * Checks for null.
     *
     * @param subtract see Sum
     * @param left see Sum
     * @param right see Sum
     * @param width see Sum
     */
    public Sum {
      Objects.requireNonNull(left, "left");
      Objects.requireNonNull(right, "right");
    }

    @Override
    public List<Signal> operands() {
      return List.of(left, right);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.sum(this);
    }
  }

  /**
   * A comparison of two signals of one width.
   *
   * @param equal true for equal, false for left less than right, unsigned
   * @param left the first operand
   * @param right the second operand
   */
  record Compare(boolean equal, Signal left, Signal right) implements Node {
    /**
     * Checks for null.
     *
     * @param equal see Compare
     * @param left see Compare
     * @param right see Compare
     */
    public Compare {
      Objects.requireNonNull(left, "left");
      Objects.requireNonNull(right, "right");
    }

    @Override
    public int width() {
      return 1;
    }

    @Override
    public List<Signal> operands() {
      return List.of(left, right);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.compare(this);
    }
  }

  /**
   * A choice by number.
   *
   * @param index the number of the choice; an index past the last choice chooses the last
   * @param choices two or more signals of one width
   */
  record Select(Signal index, List<Signal> choices) implements Node {
    /**
     * Copies the list and checks for null.
     *
     * @param index see Select
     * @param choices see Select
     */
    public Select {
      Objects.requireNonNull(index, "index");
      choices = List.copyOf(choices);
    }

    @Override
    public int width() {
      return choices.get(0).width();
    }

    @Override
    public List<Signal> operands() {
      return Stream.concat(Stream.of(index), choices.stream()).toList();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.select(this);
    }
  }

  /**
   * A lookup table.
   *
   * @param address the address; its width is that of the contents
   * @param contents the words
   * @param lut true for one physical LUT: emitted as an instance of its own that a synthesizer
   *     keeps
   */
  record Lookup(Signal address, Contents contents, boolean lut) implements Node {
    /**
     * Checks for null.
     *
     * @param address see Lookup
     * @param contents see Lookup
     * @param lut see Lookup
     */
    public Lookup {
      Objects.requireNonNull(address, "address");
      Objects.requireNonNull(contents, "contents");
    }

    @Override
    public int width() {
      return contents.dataBits();
    }

    @Override
    public List<Signal> operands() {
      return List.of(address);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.lookup(this);
    }
  }

  /**
   * A register; the circuit says what drives it.
   *
   * @param name a legal name
   * @param width bits
   * @param resetValue its value after reset; empty for data that a reset leaves as it is
   */
  record Register(String name, int width, Optional<BigInteger> resetValue) implements Node {
    /**
     * Checks for null.
     *
     * @param name see Register
     * @param width see Register
     * @param resetValue see Register
     */
    public Register {
      Objects.requireNonNull(name, "name");
      Objects.requireNonNull(resetValue, "resetValue");
    }

    @Override
    public List<Signal> operands() {
      return List.of();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.register(this);
    }
  }

  /**
   * A read of a memory in the same cycle.
   *
   * @param memory a memory of kind {@link Memory.Kind#DISTRIBUTED} or {@link Memory.Kind#REGISTERS}
   * @param address the address
   */
  record DirectRead(Memory memory, Signal address) implements Node {
    /**
     * Checks for null.
     *
     * @param memory see DirectRead
     * @param address see DirectRead
     */
    public DirectRead {
      Objects.requireNonNull(memory, "memory");
      Objects.requireNonNull(address, "address");
    }

    @Override
    public int width() {
      return memory.width();
    }

    @Override
    public List<Signal> operands() {
      return List.of(address);
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.directRead(this);
    }
  }

  /**
   * A read of a memory that yields the word in the next cycle; the word stays while not enabled. It
   * is not defined if the cycle of the read writes a part of it.
   *
   * @param memory a memory of kind {@link Memory.Kind#BLOCK}
   * @param address the address
   * @param enable one bit, or empty for always
   */
  record RegisteredRead(Memory memory, Signal address, Optional<Signal> enable) implements Node {
    /**
     * Checks for null.
     *
     * @param memory see RegisteredRead
     * @param address see RegisteredRead
     * @param enable see RegisteredRead
     */
    public RegisteredRead {
      Objects.requireNonNull(memory, "memory");
      Objects.requireNonNull(address, "address");
      Objects.requireNonNull(enable, "enable");
    }

    @Override
    public int width() {
      return memory.width();
    }

    @Override
    public List<Signal> operands() {
      return List.of();
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.registeredRead(this);
    }
  }

  /**
   * An output of an instance.
   *
   * @param instance the instance's place in its circuit
   * @param port the output's name
   * @param width bits
   * @param inputs the signals at those inputs of the instance that the output follows in the same
   *     cycle
   */
  record InstanceOutput(int instance, String port, int width, List<Signal> inputs) implements Node {
    /**
     * Copies the list and checks for null.
     *
     * @param instance see InstanceOutput
     * @param port see InstanceOutput
     * @param width see InstanceOutput
     * @param inputs see InstanceOutput
     */
    public InstanceOutput {
      Objects.requireNonNull(port, "port");
      inputs = List.copyOf(inputs);
    }

    @Override
    public List<Signal> operands() {
      return inputs;
    }

    @Override
    public <R> R accept(Visitor<R> visitor) {
      return visitor.instanceOutput(this);
    }
  }

  /**
   * Checks that a width is in range.
   *
   * @param subject what has the width, as an error message begins
   * @param width bits
   * @throws IllegalArgumentException if it is not in [1, {@value #MOST_WIDTH}]
   */
  static void checkWidth(String subject, int width) {
    Objects.requireNonNull(subject, "subject");
    if (width < 1 || width > MOST_WIDTH) {
      throw new IllegalArgumentException(
          subject + ": the width must be in [1, " + MOST_WIDTH + "] bits, found " + width);
    }
  }
}

package dev.lengthwise.circuit;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;

/** The combinational part of writing a circuit: each method adds a node and returns its output. */
abstract sealed class LogicBuilder permits CircuitBuilder {

  /** The most inputs of one physical LUT. */
  public static final int MOST_LUT_INPUTS = 8;

  final String name;
  final List<Node> nodes = new ArrayList<>();

  LogicBuilder(String name) {
    this.name = name;
  }

  final Signal add(Node node) {
    Node.checkWidth("circuit " + name + ", node " + nodes.size(), node.width());
    nodes.add(node);
    return new Signal(this, nodes.size() - 1, node.width());
  }

  /** Checks that a signal is one of this circuit. */
  final Signal own(Signal signal) {
    Objects.requireNonNull(signal, "signal");
    if (!signal.isOf(this)) {
      throw fault("an operand must be a signal of this circuit", signal);
    }
    return signal;
  }

  final IllegalArgumentException fault(String rule, Object found) {
    return new IllegalArgumentException("circuit " + name + ": " + rule + ", found " + found);
  }

  /**
   * Returns a constant.
   *
   * @param value in [0, 2^width)
   * @param width bits
   * @return the signal
   * @throws IllegalArgumentException if the value does not fit
   */
  public final Signal constant(long value, int width) {
    return constant(new BigInteger(Long.toUnsignedString(value)), width);
  }

  /**
   * Returns a constant of any width.
   *
   * @param value in [0, 2^width)
   * @param width bits
   * @return the signal
   * @throws IllegalArgumentException if the value does not fit
   */
  public final Signal constant(BigInteger value, int width) {
    Node.checkWidth("circuit " + name + ", constant", width);
    if (value.signum() < 0 || value.bitLength() > width) {
      throw fault("a constant must fit in " + width + " bits", value);
    }
    return add(new Node.Constant(value, width));
  }

  /**
   * Returns one bit of a signal.
   *
   * @param source the signal
   * @param bit in [0, width)
   * @return one bit
   * @throws IllegalArgumentException if the bit is out of range
   */
  public final Signal bit(Signal source, int bit) {
    return slice(source, bit, 1);
  }

  /**
   * Returns some bits of a signal.
   *
   * @param source the signal
   * @param low the lowest bit
   * @param width the number of bits
   * @return the bits
   * @throws IllegalArgumentException if they are not all bits of the signal
   */
  public final Signal slice(Signal source, int low, int width) {
    own(source);
    if (low < 0 || width < 1 || low + width > source.width()) {
      throw fault(
          "a slice must lie inside " + source.width() + " bits",
          "[" + (low + width - 1) + ":" + low + "]");
    }
    return low == 0 && width == source.width() ? source : add(new Node.Slice(source, low, width));
  }

  /**
   * Returns signals side by side.
   *
   * @param parts at least one, the least significant first
   * @return all bits
   * @throws IllegalArgumentException if there is none
   */
  public final Signal concat(List<Signal> parts) {
    if (parts.isEmpty()) {
      throw fault("a concatenation needs a part", "none");
    }
    parts.forEach(this::own);
    return parts.size() == 1 ? parts.get(0) : add(new Node.Concat(List.copyOf(parts)));
  }

  /**
   * Returns a signal with zeros above it.
   *
   * @param source the signal
   * @param width bits, at least those of the signal
   * @return the wider signal
   * @throws IllegalArgumentException if the width is smaller
   */
  public final Signal extend(Signal source, int width) {
    own(source);
    if (width < source.width()) {
      throw fault("an extension must not be narrower than " + source.width() + " bits", width);
    }
    return width == source.width()
        ? source
        : concat(List.of(source, constant(0, width - source.width())));
  }

  /**
   * Returns a signal with every bit inverted.
   *
   * @param source the signal
   * @return as wide
   */
  public final Signal not(Signal source) {
    return add(new Node.Not(own(source)));
  }

  /**
   * Returns the bit by bit AND.
   *
   * @param operands at least one, of one width
   * @return as wide
   * @throws IllegalArgumentException if there is none or widths differ
   */
  public final Signal and(List<Signal> operands) {
    return bitwise(Node.Operation.AND, operands);
  }

  /**
   * Returns the bit by bit OR.
   *
   * @param operands at least one, of one width
   * @return as wide
   * @throws IllegalArgumentException if there is none or widths differ
   */
  public final Signal or(List<Signal> operands) {
    return bitwise(Node.Operation.OR, operands);
  }

  /**
   * Returns the bit by bit XOR.
   *
   * @param operands at least one, of one width
   * @return as wide
   * @throws IllegalArgumentException if there is none or widths differ
   */
  public final Signal xor(List<Signal> operands) {
    return bitwise(Node.Operation.XOR, operands);
  }

  private Signal bitwise(Node.Operation operation, List<Signal> operands) {
    checkAlike(operation + " operands", operands);
    return operands.size() == 1
        ? operands.get(0)
        : add(new Node.Bitwise(operation, List.copyOf(operands)));
  }

  private void checkAlike(String what, List<Signal> signals) {
    if (signals.isEmpty()) {
      throw fault(what + " must be at least one", "none");
    }
    for (Signal signal : signals) {
      own(signal);
      if (signal.width() != signals.get(0).width()) {
        throw fault(
            what + " must have one width",
            signals.get(0).width() + " and " + signal.width() + " bits");
      }
    }
  }

  /**
   * Returns one bit from all bits of a signal.
   *
   * @param operation the operation
   * @param source the signal
   * @return one bit
   */
  public final Signal reduce(Node.Operation operation, Signal source) {
    Objects.requireNonNull(operation, "operation");
    own(source);
    return source.width() == 1 ? source : add(new Node.Reduce(operation, source));
  }

  /**
   * Returns a sum modulo 2^width.
   *
   * @param left the first operand, extended with zeros
   * @param right the second operand, extended with zeros
   * @param width bits, at least those of the wider operand
   * @return the sum
   * @throws IllegalArgumentException if the width is smaller
   */
  public final Signal add(Signal left, Signal right, int width) {
    Objects.requireNonNull(right, "right");
    return sum(false, left, right, width);
  }

  /**
   * Returns a difference modulo 2^width.
   *
   * @param left the first operand, extended with zeros
   * @param right what is taken from it, extended with zeros
   * @param width bits, at least those of the wider operand
   * @return the difference
   * @throws IllegalArgumentException if the width is smaller
   */
  public final Signal subtract(Signal left, Signal right, int width) {
    Objects.requireNonNull(right, "right");
    return sum(true, left, right, width);
  }

  private Signal sum(boolean subtract, Signal left, Signal right, int width) {
    int least = Math.max(own(left).width(), own(right).width());
    if (width < least) {
      throw fault("a sum must not be narrower than its operands of " + least + " bits", width);
    }
    return add(new Node.Sum(subtract, left, right, width));
  }

  /**
   * Tells whether two signals are equal.
   *
   * @param left a signal
   * @param right a signal as wide
   * @return one bit
   * @throws IllegalArgumentException if widths differ
   */
  public final Signal equal(Signal left, Signal right) {
    checkAlike("compared signals", List.of(left, right));
    return add(new Node.Compare(true, left, right));
  }

  /**
   * Tells whether a signal equals a constant.
   *
   * @param source the signal
   * @param value in [0, 2^width)
   * @return one bit
   * @throws IllegalArgumentException if the value does not fit
   */
  public final Signal equal(Signal source, long value) {
    return equal(source, constant(value, own(source).width()));
  }

  /**
   * Tells whether a signal is less than another, unsigned.
   *
   * @param left a signal
   * @param right a signal as wide
   * @return one bit
   * @throws IllegalArgumentException if widths differ
   */
  public final Signal lessThan(Signal left, Signal right) {
    checkAlike("compared signals", List.of(left, right));
    return add(new Node.Compare(false, left, right));
  }

  /**
   * Returns one of two signals.
   *
   * @param select one bit
   * @param whenOne the result while it is 1
   * @param whenZero the result while it is 0
   * @return the chosen one
   * @throws IllegalArgumentException if widths differ or {@code select} is wider than a bit
   */
  public final Signal mux(Signal select, Signal whenOne, Signal whenZero) {
    Objects.requireNonNull(whenOne, "whenOne");
    Objects.requireNonNull(whenZero, "whenZero");
    if (own(select).width() != 1) {
      throw fault("a multiplexer of two must be selected by one bit", select.width() + " bits");
    }
    return select(select, List.of(whenZero, whenOne));
  }

  /**
   * Returns the choice with a number.
   *
   * @param index the number; past the last choice it chooses the last
   * @param choices at least one, of one width; not more than the index can count
   * @return the chosen one
   * @throws IllegalArgumentException if widths differ or the index is too narrow
   */
  public final Signal select(Signal index, List<Signal> choices) {
    Objects.requireNonNull(index, "index");
    checkAlike("choices", choices);
    if (choices.size() == 1) {
      return choices.get(0);
    }
    if (own(index).width() < 31 && choices.size() > 1 << index.width()) {
      throw fault(
          "an index of " + index.width() + " bits must reach every choice",
          choices.size() + " choices");
    }
    return add(new Node.Select(index, List.copyOf(choices)));
  }

  /**
   * Returns the word of a lookup table.
   *
   * @param address the address
   * @param contents the words
   * @return the word
   * @throws IllegalArgumentException if the address has another width than the contents
   */
  public final Signal lookup(Signal address, Contents contents) {
    Objects.requireNonNull(contents, "contents");
    return lookup(address, contents, false);
  }

  /**
   * Returns the output of one physical LUT.
   *
   * @param inputs up to {@value #MOST_LUT_INPUTS}, one bit each, input 0 first
   * @param contents the truth table, one bit wide
   * @return one bit
   * @throws IllegalArgumentException if an input is wider, or the number of inputs is out of range
   *     or not that of the contents
   */
  public final Signal lut(List<Signal> inputs, Contents contents) {
    if (contents.dataBits() != 1) {
      throw fault("a LUT must have one output bit", contents.dataBits());
    }
    if (inputs.isEmpty() || inputs.size() > MOST_LUT_INPUTS) {
      throw fault("a LUT must have 1 to " + MOST_LUT_INPUTS + " inputs", inputs.size());
    }
    for (Signal input : inputs) {
      if (own(input).width() != 1) {
        throw fault("an input of a LUT must have one bit", input.width() + " bits");
      }
    }
    return lookup(concat(inputs), contents, true);
  }

  private Signal lookup(Signal address, Contents contents, boolean lut) {
    if (own(address).width() != contents.addressBits()) {
      throw fault(
          "the address of a " + contents + " must have " + contents.addressBits() + " bits",
          address.width());
    }
    return add(new Node.Lookup(address, contents, lut));
  }
}

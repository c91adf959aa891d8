package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.ConcatPart;
import dev.lengthwise.circuit.text.EmissionPlan;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import java.util.stream.IntStream;

/**
 * Writes nodes as expressions.
 *
 * <p>All operands of an operator are as wide as its result (or, in comparisons, as each other), so
 * that no width depends on the context.
 */
final class Expressions {

  private final EmissionPlan plan;
  private final Map<Memory, List<String>> columns = new HashMap<>();

  Expressions(EmissionPlan plan) {
    this.plan = plan;
  }

  /** Returns a sized constant. */
  static String constant(BigInteger value, int width) {
    if (width == 1) {
      return "1'b" + value;
    }
    String digits = value.toString(16);
    return width + "'h" + "0".repeat((width + 3) / 4 - digits.length()) + digits;
  }

  static String constant(long value, int width) {
    return constant(new BigInteger(Long.toUnsignedString(value)), width);
  }

  /** Returns the truth table of a lookup of one bit, as for so many inputs. */
  static String table(Contents contents, int inputs) {
    return constant(contents.truthTable(inputs), 1 << inputs);
  }

  /** Returns the range of a declaration; empty for one bit. */
  static String range(int width) {
    return width == 1 ? "" : "[" + (width - 1) + ":0]";
  }

  /** Returns some bits of a named signal. */
  static String bits(String name, int of, int low, int width) {
    if (width == of) {
      return name;
    }
    return width == 1 ? name + "[" + low + "]" : name + "[" + (low + width - 1) + ":" + low + "]";
  }

  /** Returns a signal's name, or its expression without parentheses around it. */
  String value(Signal signal) {
    return plan.name(signal.node()).orElseGet(() -> String.join("", pieces(signal.node())));
  }

  /** Returns a signal's name, or its expression in a form that any operator can follow. */
  String operand(Signal signal) {
    if (plan.name(signal.node()).isPresent()) {
      return value(signal);
    }
    Node node = plan.node(signal);
    boolean closed =
        node instanceof Node.Constant
            || node instanceof Node.Slice
            || node instanceof Node.Concat
            || node instanceof Node.Not;
    return closed ? value(signal) : "(" + value(signal) + ")";
  }

  /** Returns a node's expression, cut where a line may end. */
  List<String> pieces(int place) {
    return plan.node(place).accept(new Pieces());
  }

  /** Writes kinds of nodes that are an expression; the others are statements of their own. */
  private final class Pieces implements Node.Visitor<List<String>> {

    @Override
    public List<String> input(Node.Input input) {
      return List.of(input.port());
    }

    @Override
    public List<String> constant(Node.Constant constant) {
      return List.of(Expressions.constant(constant.value(), constant.width()));
    }

    @Override
    public List<String> slice(Node.Slice slice) {
      String source = plan.name(slice.source().node()).orElseThrow();
      return List.of(bits(source, slice.source().width(), slice.low(), slice.width()));
    }

    @Override
    public List<String> concat(Node.Concat concat) {
      return concatPieces(concat);
    }

    @Override
    public List<String> not(Node.Not not) {
      return List.of("~" + operand(not.source()));
    }

    @Override
    public List<String> bitwise(Node.Bitwise bitwise) {
      return Expressions.this.bitwise(bitwise);
    }

    @Override
    public List<String> reduce(Node.Reduce reduce) {
      return List.of(symbol(reduce.operation()) + operandOfReduce(reduce.source()));
    }

    @Override
    public List<String> sum(Node.Sum sum) {
      return List.of(
          extended(sum.left(), sum.width()),
          sum.subtract() ? " - " : " + ",
          extended(sum.right(), sum.width()));
    }

    @Override
    public List<String> compare(Node.Compare compare) {
      return List.of(
          operand(compare.left()), compare.equal() ? " == " : " < ", operand(compare.right()));
    }

    @Override
    public List<String> select(Node.Select select) {
      return choice(select);
    }

    @Override
    public List<String> directRead(Node.DirectRead read) {
      return read(read.memory(), value(read.address()));
    }

    @Override
    public List<String> lookup(Node.Lookup lookup) {
      throw statement(lookup);
    }

    @Override
    public List<String> register(Node.Register register) {
      throw statement(register);
    }

    @Override
    public List<String> registeredRead(Node.RegisteredRead read) {
      throw statement(read);
    }

    @Override
    public List<String> instanceOutput(Node.InstanceOutput output) {
      throw statement(output);
    }

    private IllegalStateException statement(Node node) {
      return new IllegalStateException("verilog: no expression can be written, found " + node);
    }
  }

  /**
   * Returns the vectors that a memory of registers is written as, one for each bit of a word: an
   * array that is cleared at once is no memory to synthesizers, and some warn of it.
   */
  List<String> columns(Memory memory) {
    return columns.computeIfAbsent(
        memory,
        m ->
            IntStream.range(0, m.width())
                .mapToObj(bit -> plan.newName(plan.memoryName(m) + "_" + bit))
                .toList());
  }

  private List<String> read(Memory memory, String address) {
    if (memory.kind() != Memory.Kind.REGISTERS) {
      return List.of(plan.memoryName(memory) + "[" + address + "]");
    }
    List<String> bits = new ArrayList<>();
    columns(memory).forEach(column -> bits.add(0, column + "[" + address + "]"));
    return bits.size() == 1 ? bits : listed("{", bits, "}");
  }

  private static String symbol(Node.Operation operation) {
    return switch (operation) {
      case AND -> "&";
      case OR -> "|";
      case XOR -> "^";
    };
  }

  /** {@code &~x} would read as NAND of x to some, so an inversion is put in parentheses here. */
  private String operandOfReduce(Signal source) {
    boolean inverted = plan.name(source.node()).isEmpty() && plan.node(source) instanceof Node.Not;
    return inverted ? "(" + value(source) + ")" : operand(source);
  }

  private List<String> bitwise(Node.Bitwise bitwise) {
    List<String> pieces = new ArrayList<>();
    for (Signal operand : bitwise.operands()) {
      String text = operand(operand);
      pieces.add(pieces.isEmpty() ? text : " " + symbol(bitwise.operation()) + " " + text);
    }
    return pieces;
  }

  private List<String> concatPieces(Node.Concat concat) {
    List<String> pieces = new ArrayList<>();
    for (ConcatPart part : ConcatPart.of(plan, concat)) {
      String text = part.constant().map(Expressions::constantText).orElseGet(() -> partText(part));
      pieces.add(part.copies() == 1 ? text : "{" + part.copies() + "{" + text + "}}");
    }
    boolean closed = pieces.size() == 1 && pieces.get(0).startsWith("{");
    return closed ? pieces : listed("{", pieces, "}");
  }

  private static String constantText(Node.Constant constant) {
    return constant(constant.value(), constant.width());
  }

  private String partText(ConcatPart part) {
    Signal signal = part.signal();
    return part.isWhole()
        ? value(signal)
        : bits(plan.name(signal.node()).orElseThrow(), signal.width(), part.low(), part.width());
  }

  /** Returns items with commas between them, a space before all but the first. */
  static List<String> listed(String open, List<String> items, String close) {
    List<String> pieces = new ArrayList<>();
    for (int i = 0; i < items.size(); i++) {
      pieces.add((i == 0 ? open : " ") + items.get(i) + (i == items.size() - 1 ? close : ","));
    }
    return pieces;
  }

  private String extended(Signal signal, int width) {
    int more = width - signal.width();
    if (more == 0) {
      return operand(signal);
    }
    if (plan.name(signal.node()).isEmpty() && plan.node(signal) instanceof Node.Constant constant) {
      return constant(constant.value(), width);
    }
    return "{" + constant(0, more) + ", " + value(signal) + "}";
  }

  /** The chain of conditions; long ones are written as a case statement instead. */
  private List<String> choice(Node.Select select) {
    List<Signal> choices = select.choices();
    List<String> pieces = new ArrayList<>();
    if (select.index().width() == 1) {
      return List.of(
          operand(select.index()),
          " ? " + operand(choices.get(1)),
          " : " + operand(choices.get(0)));
    }
    int last = choices.size() - 1;
    String rest = operand(choices.get(last));
    for (int from = 0; from < last; ) {
      String text = operand(choices.get(from));
      int to = from + 1;
      while (to <= last && operand(choices.get(to)).equals(text)) {
        to++;
      }
      if (to <= last) {
        String condition = isIndexIn(select.index(), from, to);
        pieces.add((from == 0 ? "" : " ") + condition + " ? " + text + " :");
      }
      from = to;
    }
    pieces.add((pieces.isEmpty() ? "" : " ") + rest);
    return pieces;
  }

  /** Returns the condition that an index is one of some neighbouring numbers. */
  private String isIndexIn(Signal index, int from, int to) {
    String value = operand(index);
    if (from == 0 && to > 2) {
      return "(" + value + " < " + constant(to, index.width()) + ")";
    }
    String numbers =
        IntStream.range(from, to)
            .mapToObj(number -> "(" + value + " == " + constant(number, index.width()) + ")")
            .collect(Collectors.joining(" | "));
    return to == from + 1 ? numbers : "(" + numbers + ")";
  }
}

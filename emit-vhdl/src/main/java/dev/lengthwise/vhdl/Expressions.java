package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.ConcatPart;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.vhdl.Expression.Binding;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** Writes what a block's signals are computed from, as far as one expression says it. */
final class Expressions {

  private final EmissionPlan plan;
  private final Functions functions;
  private final Map<Node.Constant, String> fixedAddresses = new LinkedHashMap<>();

  Expressions(EmissionPlan plan, Functions functions) {
    this.plan = plan;
    this.functions = functions;
  }

  /** Returns the signal's name, or what computes it if it has none. */
  Expression of(Signal signal) {
    Optional<String> name = plan.name(signal.node());
    return name.isPresent() ? new Expression(name.get(), Binding.NAME) : compute(plan.node(signal));
  }

  /** Returns the value if the signal is a constant without a name. */
  Optional<Node.Constant> constant(Signal signal) {
    return plan.name(signal.node()).isEmpty() && plan.node(signal) instanceof Node.Constant constant
        ? Optional.of(constant)
        : Optional.empty();
  }

  /** Returns what computes a node of a kind that one expression says. */
  Expression compute(Node node) {
    return node.accept(new Compute());
  }

  /** Writes kinds of nodes that are an expression; the others are statements of their own. */
  private final class Compute implements Node.Visitor<Expression> {

    @Override
    public Expression constant(Node.Constant constant) {
      String text = Literals.constant(constant.value(), constant.width());
      return new Expression(
          text, constant.width() > Literals.LONGEST ? Binding.CONCAT : Binding.LITERAL);
    }

    @Override
    public Expression slice(Node.Slice slice) {
      // The plan may leave all of a signal, which a single bit could not be sliced to.
      boolean whole = slice.width() == slice.source().width();
      String bits = whole ? "" : bits(slice.low(), slice.width());
      return new Expression(of(slice.source()).text() + bits, Binding.NAME);
    }

    @Override
    public Expression concat(Node.Concat concat) {
      return sideBySide(concat);
    }

    @Override
    public Expression not(Node.Not not) {
      return Expressions.not(of(not.source()));
    }

    @Override
    public Expression bitwise(Node.Bitwise bitwise) {
      return Expressions.this.bitwise(bitwise);
    }

    @Override
    public Expression reduce(Node.Reduce reduce) {
      return functions.call(
          switch (reduce.operation()) {
            case AND -> Functions.Kind.AND_ALL;
            case OR -> Functions.Kind.OR_ALL;
            case XOR -> Functions.Kind.XOR_ALL;
          },
          of(reduce.source()).text());
    }

    @Override
    public Expression sum(Node.Sum sum) {
      return Expressions.this.sum(sum);
    }

    @Override
    public Expression compare(Node.Compare compare) {
      return Expressions.this.compare(compare);
    }

    @Override
    public Expression input(Node.Input input) {
      throw statement(input);
    }

    @Override
    public Expression select(Node.Select select) {
      throw statement(select);
    }

    @Override
    public Expression lookup(Node.Lookup lookup) {
      throw statement(lookup);
    }

    @Override
    public Expression register(Node.Register register) {
      throw statement(register);
    }

    @Override
    public Expression directRead(Node.DirectRead read) {
      throw statement(read);
    }

    @Override
    public Expression registeredRead(Node.RegisteredRead read) {
      throw statement(read);
    }

    @Override
    public Expression instanceOutput(Node.InstanceOutput output) {
      throw statement(output);
    }

    private IllegalStateException statement(Node node) {
      return new IllegalStateException(
          "expression: the node needs a statement of its own, found " + node);
    }
  }

  /** Returns an index or a range. */
  static String bits(int low, int width) {
    return width == 1 ? "(" + low + ")" : "(" + (low + width - 1) + " downto " + low + ")";
  }

  /** Returns the parts side by side, the most significant first as the language has it. */
  private Expression sideBySide(Node.Concat concat) {
    List<String> texts = new ArrayList<>();
    for (ConcatPart part : ConcatPart.of(plan, concat)) {
      String text =
          part.constant()
              .map(constant -> Literals.constant(constant.value(), constant.width()))
              .orElseGet(
                  () ->
                      part.isWhole()
                          ? of(part.signal()).operandOf(Binding.CONCAT)
                          : of(part.signal()).text() + bits(part.low(), part.width()));
      texts.addAll(Collections.nCopies(part.copies(), text));
    }
    return new Expression(String.join(" & ", texts), Binding.CONCAT);
  }

  private static Expression not(Expression operand) {
    return new Expression("not " + operand.primary(), Binding.NOT);
  }

  private Expression bitwise(Node.Bitwise node) {
    Binding binding = Binding.valueOf(node.operation().name());
    String word =
        switch (node.operation()) {
          case AND -> " and ";
          case OR -> " or ";
          case XOR -> " xor ";
        };
    return new Expression(
        node.operands().stream()
            .map(operand -> of(operand).operandOf(binding))
            .collect(Collectors.joining(word)),
        binding);
  }

  private Expression compare(Node.Compare node) {
    Expression left = of(node.left());
    Expression right = of(node.right());
    if (node.left().width() > 1) {
      return functions.call(
          node.equal() ? Functions.Kind.IS_EQUAL : Functions.Kind.IS_BELOW,
          left.text() + ", " + right.text());
    }
    if (!node.equal()) {
      return new Expression(not(left).text() + " and " + right.operandOf(Binding.AND), Binding.AND);
    }
    return not(
        new Expression(
            left.operandOf(Binding.XOR) + " xor " + right.operandOf(Binding.XOR), Binding.XOR));
  }

  private Expression sum(Node.Sum node) {
    if (node.width() == 1) {
      return new Expression(
          of(node.left()).operandOf(Binding.XOR)
              + " xor "
              + of(node.right()).operandOf(Binding.XOR),
          Binding.XOR);
    }
    return new Expression("std_logic_vector(" + unsignedSum(node) + ")", Binding.CLOSED);
  }

  /** Returns the sum as unsigned; at least one operand has its full width. */
  private String unsignedSum(Node.Sum node) {
    boolean fixedRight = isSmallConstant(node.right());
    boolean fixedLeft = isSmallConstant(node.left()) && !fixedRight;
    boolean resizeLeft = !fixedLeft && (fixedRight || node.right().width() < node.width());
    return (fixedLeft
            ? number(node.left())
            : unsigned(node.left(), resizeLeft ? node.width() : node.left().width()))
        + (node.subtract() ? " - " : " + ")
        + (fixedRight
            ? number(node.right())
            : unsigned(node.right(), fixedLeft ? node.width() : node.right().width()));
  }

  private boolean isSmallConstant(Signal signal) {
    return constant(signal).filter(c -> c.value().bitLength() < 31).isPresent();
  }

  private String number(Signal signal) {
    return constant(signal).orElseThrow().value().toString();
  }

  /** Returns a signal as unsigned, extended to a width. */
  private String unsigned(Signal signal, int width) {
    Expression plain = of(signal);
    String text;
    if (plan.name(signal.node()).isEmpty()
        && plan.node(signal) instanceof Node.Sum inner
        && inner.width() > 1) {
      text = unsignedSum(inner);
      if (signal.width() == width) {
        return "(" + text + ")";
      }
    } else if (signal.width() == 1) {
      text = "unsigned'(\"\" & " + plain.operandOf(Binding.CONCAT) + ")";
    } else if (plain.isName()) {
      text = "unsigned(" + plain.text() + ")";
    } else {
      text = "unsigned(std_logic_vector'(" + plain.text() + "))";
    }
    return signal.width() == width ? text : "resize(" + text + ", " + width + ")";
  }

  /** Returns the output of a physical LUT. */
  Expression lut(Node.Lookup node) {
    Expression inputs = of(node.address());
    String vector =
        node.address().width() == 1 ? "\"\" & " + inputs.operandOf(Binding.CONCAT) : inputs.text();
    return functions.call(
        Functions.Kind.LUT_OF,
        Literals.vector(
                node.contents().truthTable(node.address().width()), 1 << node.address().width())
            + ", "
            + vector);
  }

  /**
   * Returns the name of an address. A constant gets a signal of its own: some synthesizers make no
   * memory of an array that is indexed by a constant somewhere.
   */
  Expression address(Signal address) {
    return constant(address)
        .map(fixed -> fixedAddresses.computeIfAbsent(fixed, f -> plan.newName("fixed_address")))
        .map(name -> new Expression(name, Binding.NAME))
        .orElseGet(() -> of(address));
  }

  /** Returns the integer that an address counts, for use as an index. */
  String index(Signal address) {
    String name = address(address).text();
    return address.width() == 1
        ? "to_integer(unsigned'(\"\" & " + name + "))"
        : "to_integer(unsigned(" + name + "))";
  }

  /** Returns the signals that {@link #address} made up, with their names. */
  Map<Node.Constant, String> fixedAddresses() {
    return fixedAddresses;
  }

  /** Returns the condition that an address has an unknown bit. */
  String isUnknown(Signal address) {
    return "is_x(" + address(address).text() + ")";
  }
}

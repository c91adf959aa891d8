package dev.lengthwise.vhdl;

/**
 * The text of an expression and how tightly it binds.
 *
 * @param text what to print
 * @param binding the outermost operator
 */
record Expression(String text, Binding binding) {

  /** The outermost operator of an expression; the logic operators cannot be mixed. */
  enum Binding {
    /** A name, with an index or a slice perhaps. */
    NAME,
    /** A literal. */
    LITERAL,
    /** A function call or anything in brackets of its own. */
    CLOSED,
    /** {@code not}. */
    NOT,
    /** {@code and}. */
    AND,
    /** {@code or}. */
    OR,
    /** {@code xor}. */
    XOR,
    /** {@code &}. */
    CONCAT
  }

  boolean isName() {
    return binding == Binding.NAME;
  }

  /** Returns the text as an operand of {@code not}, a comparison, or an index. */
  String primary() {
    return switch (binding) {
      case NAME, LITERAL, CLOSED -> text;
      default -> "(" + text + ")";
    };
  }

  /** Returns the text as an operand of an operator, bracketed unless that reads the same. */
  String operandOf(Binding operator) {
    boolean same = binding == operator;
    boolean inverted = binding == Binding.NOT && operator != Binding.CONCAT;
    return same || inverted ? text : primary();
  }
}

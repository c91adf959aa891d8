package dev.lengthwise.circuit.text;

import java.util.List;

/**
 * The block that LUTs are instances of, alike in every language: one bit of a truth table, looked
 * up. Its truth table and number of inputs are parameters, in this order; its ports are the value
 * and then the point that the inputs count, a vector.
 */
public final class LutBlock {

  /** The number of inputs, in small letters. */
  public static final String INPUTS = "inputs";

  /** The truth table, in small letters. */
  public static final String TRUTH = "truth";

  /** The output. */
  public static final String VALUE = "value";

  /** The inputs, as one vector. */
  public static final String POINT = "point";

  private LutBlock() {}

  /**
   * Writes the head of the block's file: what it is, what keeps it, and how to put a device's own
   * LUT in its place.
   *
   * @param name the block's name
   * @param attribute the attribute that keeps it
   * @param mark what starts a comment up to the line's end
   * @param sink where it goes
   */
  public static void writeHead(String name, String attribute, String mark, TextSink sink) {
    String rule = FileHead.rule(mark);
    sink.line(rule).line(mark + " Block " + name).line(mark);
    for (String paragraph :
        List.of(
            "One LUT: the value is bit "
                + POINT
                + " of the truth table, bit i while the inputs count i, input 0 being the least"
                + " significant.",
            "Every LUT of a network is an instance of this block. The attribute "
                + attribute
                + " asks tools to leave each as it is, so that as many LUTs come out as are"
                + " estimated. Tools that call that otherwise want their word here; those that"
                + " drop attributes have to be told not to flatten this block.",
            "For a LUT primitive of the device, replace the one assignment by an instance of it:"
                + " its inputs are those of "
                + POINT
                + ", the rest 0, and its table is the truth table, as many times side by side as"
                + " fill it.")) {
      sink.comment(mark, paragraph).line(mark);
    }
    sink.comment(mark, Caution.SHORT).line(rule);
  }
}

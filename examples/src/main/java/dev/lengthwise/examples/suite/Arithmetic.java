package dev.lengthwise.examples.suite;

import static dev.lengthwise.examples.suite.WordTables.bits;

import dev.lengthwise.logic.network.LutNetwork;
import java.util.List;

/** Adders, comparators, multipliers and squares. Common practice, no source. */
final class Arithmetic {

  private static final String SOURCE = "common practice, no source";

  private Arithmetic() {}

  static List<SuiteFunction> all() {
    return List.of(
        add(2, false),
        add(3, true),
        add(4, false),
        add(5, false),
        add(6, true),
        compare(4).withKnown(6, 5, SuiteFunction.BY_HAND),
        compare(5).withKnown(6, 5, SuiteFunction.BY_HAND),
        less(6)
            .withKnown(6, 3, "12 inputs take 3 LUTs so the least")
            .withKnown(4, 5, SuiteFunction.BY_HAND),
        multiply(2)
            .withKnown(6, 4, SuiteFunction.A_LUT_EACH)
            .withKnown(4, 4, SuiteFunction.A_LUT_EACH),
        multiply(3),
        multiply(4),
        square(5),
        square(6));
  }

  /**
   * Adds, with a carry in as the last input if wanted. A LUT of five inputs makes each bit of the
   * sum from the one before: the carry into bit i is the majority of a, b and not s of bit i - 1.
   * With four, each carry takes a LUT too, but for the first, which two pairs of inputs hold.
   */
  private static SuiteFunction add(int width, boolean carry) {
    int inputs = 2 * width + (carry ? 1 : 0);
    Gates gates = new Gates(inputs);
    int[] sum =
        gates.add(
            Gates.inputs(0, width),
            Gates.inputs(width, width),
            carry ? 2 * width : LutNetwork.ZERO);
    int withFour = carry ? 2 * width : 2 * width - 1;
    return SuiteFunction.of(
            "add_" + width + "_" + width + (carry ? "_carry" : ""),
            SOURCE,
            WordTables.of(
                inputs,
                width + 1,
                x -> bits(x, 0, width) + bits(x, width, width) + (x >> 2 * width)))
        .withFormula(
            SuiteFunction.line(
                "assign y = x[%d:0] + x[%d:%d]%s;",
                width - 1, 2 * width - 1, width, carry ? " + x[" + 2 * width + "]" : ""))
        .withGates(gates.build(sum))
        .withKnown(6, width + 1, SuiteFunction.A_LUT_EACH)
        .withKnown(
            4, withFour, withFour == width + 1 ? SuiteFunction.A_LUT_EACH : SuiteFunction.BY_HAND);
  }

  private static SuiteFunction compare(int width) {
    Gates gates = new Gates(2 * width);
    int[] a = Gates.inputs(0, width);
    int[] b = Gates.inputs(width, width);
    String high = "x[" + (2 * width - 1) + ":" + width + "]";
    String low = "x[" + (width - 1) + ":0]";
    return SuiteFunction.of(
            "compare_" + width + "_" + width,
            SOURCE,
            WordTables.of(
                2 * width,
                3,
                x -> {
                  int order = Integer.compare(bits(x, 0, width), bits(x, width, width));
                  return order < 0 ? 1 : order == 0 ? 2 : 4;
                }))
        .withFormula(
            SuiteFunction.line("assign y = {%1$s > %2$s, %1$s == %2$s, %1$s < %2$s};", low, high))
        .withGates(gates.build(gates.less(a, b), gates.equal(a, b), gates.less(b, a)));
  }

  private static SuiteFunction less(int width) {
    Gates gates = new Gates(2 * width);
    return SuiteFunction.of(
            "less_" + width + "_" + width,
            SOURCE,
            WordTables.of(2 * width, 1, x -> bits(x, 0, width) < bits(x, width, width) ? 1 : 0))
        .withFormula(
            SuiteFunction.line("assign y = x[%d:0] < x[%d:%d];", width - 1, 2 * width - 1, width))
        .withGates(gates.build(gates.less(Gates.inputs(0, width), Gates.inputs(width, width))));
  }

  private static SuiteFunction multiply(int width) {
    Gates gates = new Gates(2 * width);
    return SuiteFunction.of(
            "multiply_" + width + "_" + width,
            SOURCE,
            WordTables.of(2 * width, 2 * width, x -> bits(x, 0, width) * bits(x, width, width)))
        .withFormula(
            SuiteFunction.line("assign y = x[%d:0] * x[%d:%d];", width - 1, 2 * width - 1, width))
        .withGates(gates.build(gates.multiply(Gates.inputs(0, width), Gates.inputs(width, width))));
  }

  private static SuiteFunction square(int width) {
    Gates gates = new Gates(width);
    int[] x = Gates.inputs(0, width);
    return SuiteFunction.of(
            "square_" + width, SOURCE, WordTables.of(width, 2 * width, word -> word * word))
        .withFormula("assign y = x * x;")
        .withGates(gates.build(gates.multiply(x, x)));
  }
}

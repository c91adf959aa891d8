package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Writes a choice by number, as a selected assignment that lists every number, so that the rest is
 * an index with an unknown bit; an index with many more numbers than choices is compared instead.
 */
final class Choices {

  /** The most numbers that the last choice may have to list. */
  private static final int MOST_LISTED = 64;

  private static final int COLUMNS = 100;

  private final Expressions expressions;

  Choices(Expressions expressions) {
    this.expressions = expressions;
  }

  /** Adds the assignment. */
  void assign(String target, Node.Select node, TextSink sink) {
    int indexBits = node.index().width();
    if (indexBits < 31 && (1 << indexBits) - node.choices().size() <= MOST_LISTED) {
      Map<String, List<String>> numbers = new LinkedHashMap<>();
      for (int number = 0; number < 1 << indexBits; number++) {
        Signal choice = node.choices().get(Math.min(number, node.choices().size() - 1));
        numbers
            .computeIfAbsent(expressions.of(choice).text(), c -> new ArrayList<>())
            .add(number(number, indexBits));
      }
      selected(target, expressions.of(node.index()).text(), node.width(), numbers, sink);
    } else {
      compared(target, node, sink);
    }
  }

  /** Adds the lookup by one bit. */
  void assign(String target, Node.Lookup node, TextSink sink) {
    Map<String, List<String>> numbers = new LinkedHashMap<>();
    for (int number = 0; number < 2; number++) {
      numbers
          .computeIfAbsent(
              Literals.constant(node.contents().word(number), node.width()), c -> new ArrayList<>())
          .add(number(number, 1));
    }
    selected(target, expressions.of(node.address()).text(), node.width(), numbers, sink);
  }

  private static String number(int number, int bits) {
    return bits == 1 ? Literals.bit(number) : Literals.binary(number, bits);
  }

  private static void selected(
      String target, String index, int width, Map<String, List<String>> numbers, TextSink sink) {
    String unknown = Literals.unknown(width);
    int longest = unknown.length();
    for (String choice : numbers.keySet()) {
      longest = choice.length() <= COLUMNS / 2 ? Math.max(longest, choice.length()) : longest;
    }
    sink.blank().line("with " + index + " select");
    sink.line("  " + target + " <=");
    for (Map.Entry<String, List<String>> choice : numbers.entrySet()) {
      String text = choice.getKey();
      String start = text + " ".repeat(Math.max(0, longest - text.length())) + " when ";
      Lines.add(sink, 2, start + String.join(" | ", choice.getValue()) + ",");
    }
    Lines.add(sink, 2, unknown + " ".repeat(longest - unknown.length()) + " when others;");
  }

  private void compared(String target, Node.Select node, TextSink sink) {
    String index = expressions.of(node.index()).text();
    int last = node.choices().size() - 1;
    sink.blank().line(target + " <=");
    sink.line("  " + Literals.unknown(node.width()) + " when is_x(" + index + ") else");
    for (int number = 0; number < last; number++) {
      Lines.add(
          sink,
          1,
          expressions.of(node.choices().get(number)).text()
              + " when "
              + index
              + " = "
              + Literals.binary(number, node.index().width())
              + " else");
    }
    Lines.add(sink, 1, expressions.of(node.choices().get(last)).text() + ";");
  }
}

package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.text.TextSink;

/** Breaks long statements between words; no VHDL that is printed here has a space in a literal. */
final class Lines {

  /** The longest line, in columns. */
  private static final int COLUMNS = 100;

  private Lines() {}

  /** Adds a statement, on several lines if it is long; all but the first are indented by more. */
  static void add(TextSink sink, String statement) {
    add(sink, 0, statement);
  }

  /** Adds a statement of two parts, the second on lines of its own if both do not fit on one. */
  static void addTwo(TextSink sink, String first, String second) {
    if (sink.indentation() + first.length() + 1 + second.length() <= COLUMNS) {
      sink.line(first + " " + second);
    } else {
      add(sink, first);
      add(sink, 1, second);
    }
  }

  /** Adds a part of a statement, indented by some levels. */
  static void add(TextSink sink, int levels, String part) {
    String rest = part;
    String indent = "  ".repeat(levels);
    while (sink.indentation() + indent.length() + rest.length() > COLUMNS) {
      int room = COLUMNS - sink.indentation() - indent.length();
      int space = breakAt(rest, room);
      if (space < 0) {
        break;
      }
      sink.line(indent + rest.substring(0, space));
      rest = rest.substring(space + 1).stripLeading();
      indent = "  ".repeat(levels + 2);
    }
    sink.line(indent + rest);
  }

  /** Returns the last space that fits outside most brackets, but not too far to the left. */
  private static int breakAt(String text, int room) {
    int best = -1;
    int bestDepth = Integer.MAX_VALUE;
    int depth = 0;
    for (int i = 0; i < text.length() && (i <= room || best < 0); i++) {
      char c = text.charAt(i);
      depth += c == '(' ? 1 : c == ')' ? -1 : 0;
      if (c == ' ' && depth <= bestDepth && (i > room / 3)) {
        best = i;
        bestDepth = depth;
      }
    }
    return best;
  }
}

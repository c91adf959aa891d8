package dev.lengthwise.testbench;

import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.Consumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * A single fault in an emitted file.
 *
 * @param kind what is wrong
 * @param file the file's name
 * @param from where the replaced text starts
 * @param to where it ends
 * @param text what stands there instead
 */
record Fault(Kind kind, String file, int from, int to, String text) {

  /** The kinds of fault. */
  enum Kind {
    FLIPPED_TABLE_BIT,
    SWAPPED_OPERANDS,
    WRONG_OPERATOR,
    WRONG_SLICE,
    INVERTED_SELECT,
    DROPPED_CARRY,
    WIDTH_OFF_BY_ONE
  }

  /** Lines of Verilog that declare, or that only keep linters quiet. */
  private static final Pattern VERILOG_HEAD =
      Pattern.compile(
          "\\s*(//|`|module|endmodule|parameter|input|output|function|localparam \\[.*=$"
              + "|wire unused).*");

  private static final Pattern VHDL_HEAD =
      Pattern.compile(
          "\\s*(--|library|use|entity|architecture|signal|function|variable|constant|attribute"
              + "|for |return|if |elsif|\\w+ *: *(in|out) ).*");

  String applied(String source) {
    return source.substring(0, from) + text + source.substring(to);
  }

  /** Returns the line, as it was and as it is. */
  String describe(String source) {
    int start = source.lastIndexOf('\n', from) + 1;
    int end = source.indexOf('\n', to);
    return "%s in %s: \"%s\" became \"%s\""
        .formatted(
            kind,
            file,
            source.substring(start, end).strip(),
            (source.substring(start, from) + text + source.substring(to, end)).strip());
  }

  /** Returns the faults of all files in an order that takes kinds and files in turn. */
  static List<Fault> inTurn(Map<String, String> sources, boolean verilog, long seed) {
    Map<Kind, List<Fault>> byKind = new EnumMap<>(Kind.class);
    sources.forEach(
        (file, text) -> {
          for (Fault fault : new Finder(file, text, verilog).find()) {
            byKind.computeIfAbsent(fault.kind(), kind -> new ArrayList<>()).add(fault);
          }
        });
    List<Fault> all = new ArrayList<>();
    Random random = new Random(seed);
    for (List<Fault> faults : byKind.values()) {
      faults.sort(Comparator.comparing(Fault::file).thenComparing(Fault::from));
      Collections.shuffle(faults, random);
    }
    while (byKind.values().stream().anyMatch(list -> !list.isEmpty())) {
      for (List<Fault> faults : byKind.values()) {
        if (!faults.isEmpty()) {
          all.add(faults.remove(faults.size() - 1));
        }
      }
    }
    return all;
  }

  /** Finds the places of one file where a fault can be made. */
  private static final class Finder {

    private final String file;
    private final String source;
    private final boolean verilog;
    private final List<Fault> found = new ArrayList<>();

    Finder(String file, String source, boolean verilog) {
      this.file = file;
      this.source = source;
      this.verilog = verilog;
    }

    List<Fault> find() {
      if (verilog) {
        verilog();
      } else {
        vhdl();
      }
      return found;
    }

    private void verilog() {
      each("([0-9]+)'h([0-9a-f]+)", this::flipHex);
      each(
          "\\? (\\w+) : (\\w+)",
          m -> add(Kind.SWAPPED_OPERANDS, m, "? " + m.group(2) + " : " + m.group(1)));
      each(
          "\\{(\\w+), (\\w+)",
          m -> add(Kind.SWAPPED_OPERANDS, m, "{" + m.group(2) + ", " + m.group(1)));
      each(" & ", m -> add(Kind.WRONG_OPERATOR, m, " | "));
      each(" \\| ", m -> add(Kind.WRONG_OPERATOR, m, " & "));
      each("\\[([0-9]+)(:([0-9]+))?\\]", m -> shift(m, "[", ":", "]"));
      each("(\\w+) \\?", m -> add(Kind.INVERTED_SELECT, m, "~" + m.group()));
      each("~(\\w+)", m -> add(Kind.INVERTED_SELECT, m, m.group(1)));
      each(" \\+ ", m -> add(Kind.DROPPED_CARRY, m, " ^ "));
      each("  wire +\\[([0-9]+):0\\]", this::narrow);
    }

    private void vhdl() {
      each("(?<!x)\"([01]+)\"", this::flipBinary);
      each("x\"([0-9a-f]+)\"", this::flipVhdlHex);
      each(
          "= '([01])'",
          m -> add(Kind.FLIPPED_TABLE_BIT, m, "= '" + (m.group(1).equals("0") ? 1 : 0) + "'"));
      each("(\\w+) & (\\w+)", m -> add(Kind.SWAPPED_OPERANDS, m, m.group(2) + " & " + m.group(1)));
      each(" and ", m -> add(Kind.WRONG_OPERATOR, m, " or "));
      each(" or ", m -> add(Kind.WRONG_OPERATOR, m, " and "));
      each("\\(([0-9]+)( downto ([0-9]+))?\\)", m -> shift(m, "(", " downto ", ")"));
      each(
          "(\\S+)( +when '0',\\n +)(\\S+)( +when '1',)",
          m -> add(Kind.INVERTED_SELECT, m, m.group(3) + m.group(2) + m.group(1) + m.group(4)));
      each("not (\\w+)", m -> add(Kind.INVERTED_SELECT, m, m.group(1)));
      each(" \\+ ", m -> add(Kind.DROPPED_CARRY, m, " xor "));
    }

    private void each(String pattern, Consumer<Matcher> action) {
      Matcher matcher = Pattern.compile(pattern).matcher(source);
      while (matcher.find()) {
        int start = source.lastIndexOf('\n', matcher.start()) + 1;
        String line = source.substring(start, source.indexOf('\n', matcher.start()));
        Pattern head = verilog ? VERILOG_HEAD : VHDL_HEAD;
        if (!head.matcher(line).matches() && !line.contains("unused")) {
          action.accept(matcher);
        }
      }
    }

    private void add(Kind kind, Matcher matcher, String text) {
      if (!text.equals(matcher.group())) {
        found.add(new Fault(kind, file, matcher.start(), matcher.end(), text));
      }
    }

    private void flipHex(Matcher m) {
      int width = Integer.parseInt(m.group(1));
      BigInteger value = new BigInteger(m.group(2), 16);
      for (int bit = 0; bit < width; bit++) {
        add(Kind.FLIPPED_TABLE_BIT, m, width + "'h" + value.flipBit(bit).toString(16));
      }
    }

    private void flipVhdlHex(Matcher m) {
      int digits = m.group(1).length();
      BigInteger value = new BigInteger(m.group(1), 16);
      for (int bit = 0; bit < 4 * digits; bit++) {
        String flipped = value.flipBit(bit).toString(16);
        add(
            Kind.FLIPPED_TABLE_BIT,
            m,
            "x\"" + "0".repeat(digits - flipped.length()) + flipped + "\"");
      }
    }

    private void flipBinary(Matcher m) {
      for (int bit = 0; bit < m.group(1).length(); bit++) {
        StringBuilder bits = new StringBuilder(m.group(1));
        bits.setCharAt(bit, bits.charAt(bit) == '0' ? '1' : '0');
        add(Kind.FLIPPED_TABLE_BIT, m, "\"" + bits + "\"");
      }
    }

    private void shift(Matcher m, String open, String between, String close) {
      int start = source.lastIndexOf('\n', m.start()) + 1;
      String before = source.substring(start, m.start());
      if (before.matches("\\s*(wire|reg)\\s*")) {
        return;
      }
      int high = Integer.parseInt(m.group(1));
      int low = m.group(3) == null ? high : Integer.parseInt(m.group(3));
      int by = low > 0 ? -1 : 1;
      String range = m.group(3) == null ? "" + (high + by) : (high + by) + between + (low + by);
      add(Kind.WRONG_SLICE, m, open + range + close);
    }

    private void narrow(Matcher m) {
      int high = Integer.parseInt(m.group(1));
      if (high > 0) {
        add(Kind.WIDTH_OFF_BY_ONE, m, m.group().replace("[" + high + ":", "[" + (high - 1) + ":"));
      }
    }
  }
}

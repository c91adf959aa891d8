package dev.lengthwise.circuit.text;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.apache.commons.text.WordUtils;

/**
 * Makes any text fit for comments that run to the end of a line.
 *
 * <p>Such a comment ends at a line end alone, so none is let through; nothing but printable ASCII
 * is. Some tools obey comments that start with certain words; such a word is put in quotes, so that
 * a text can speak of those tools without switching anything off.
 */
public final class CommentText {

  /**
   * Words that start an order to a tool when a comment starts with them. Common practice, no
   * source.
   */
  private static final Set<String> ORDERS =
      Set.of(
          "verilator",
          "synthesis",
          "synopsys",
          "cadence",
          "ambit",
          "pragma",
          "psl",
          "coverage",
          "translate_off",
          "translate_on",
          "translate",
          "rtl_synthesis",
          "lint",
          "vcs",
          "vhdl",
          "verilog",
          "coverage_off",
          "coverage_on");

  private CommentText() {}

  /**
   * Returns a text as one line of printable ASCII; other characters become spaces or escapes.
   *
   * @param text any text
   * @return the line, without spaces at its ends
   */
  public static String oneLine(String text) {
    StringBuilder out = new StringBuilder();
    for (int i = 0; i < text.length(); i++) {
      char c = text.charAt(i);
      if (Character.isWhitespace(c)) {
        out.append(' ');
      } else if (c >= ' ' && c <= '~') {
        out.append(c);
      } else {
        out.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
      }
    }
    return harmless(out.toString().strip());
  }

  /**
   * Returns a text as lines of printable ASCII.
   *
   * @param text any text; an empty line in it starts a new paragraph
   * @param columns the longest line; less than 24 counts as 24
   * @return the lines; none if there is nothing to say
   */
  public static List<String> wrap(String text, int columns) {
    List<String> lines = new ArrayList<>();
    for (String paragraph : text.strip().split("\\R[ \\t]*\\R", -1)) {
      String flat = oneLine(paragraph.replaceAll("\\s+", " "));
      if (flat.isEmpty()) {
        continue;
      }
      if (!lines.isEmpty()) {
        lines.add("");
      }
      for (String line :
          WordUtils.wrap(flat, Math.max(20, columns - 4), "\n", true).split("\n", -1)) {
        lines.add(harmless(line.strip()));
      }
    }
    return lines;
  }

  /** Quotes an order and keeps a backslash from standing before the line end. */
  private static String harmless(String line) {
    int end = 0;
    while (end < line.length()
        && (Character.isLetterOrDigit(line.charAt(end)) || line.charAt(end) == '_')) {
      end++;
    }
    String safe =
        ORDERS.contains(line.substring(0, end).toLowerCase(Locale.ROOT))
            ? "\"" + line.substring(0, end) + "\"" + line.substring(end)
            : line;
    return safe.endsWith("\\") ? safe + "." : safe;
  }
}

package dev.lengthwise.report;

import dev.lengthwise.file.ShownText;
import java.util.List;
import java.util.Locale;
import org.apache.commons.text.StringEscapeUtils;

/**
 * Elements of a picture. They are written by hand, as libraries that draw charts measure text with
 * the fonts of the machine, and the page must be the same bytes everywhere.
 */
final class SvgText {

  /**
   * Colours that people with any kind of colour vision can tell apart: Okabe and Ito's palette,
   * "Color Universal Design", 2008 (from memory), without yellow, which is too light on white.
   */
  private static final List<String> COLOURS =
      List.of("#0072B2", "#E69F00", "#009E73", "#D55E00", "#56B4E9", "#CC79A7", "#000000");

  private final StringBuilder out = new StringBuilder();

  SvgText(int width, int height, String title) {
    add(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" role=\"img\">",
        width, height);
    add("<title>%s</title>", escaped(title));
  }

  static String escaped(String text) {
    return StringEscapeUtils.escapeXml10(ShownText.of(text));
  }

  static String colour(int index) {
    return COLOURS.get(index % COLOURS.size());
  }

  /** Appends an element whose numbers have one digit after the point. */
  SvgText add(String format, Object... values) {
    out.append(String.format(Locale.ROOT, format, values)).append('\n');
    return this;
  }

  SvgText label(double x, double y, String anchor, String text) {
    return add(
        "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\">%s</text>", x, y, anchor, escaped(text));
  }

  @Override
  public String toString() {
    return out + "</svg>\n";
  }
}

package dev.lengthwise.file;

import java.util.Locale;

/** Text from outside, such as names of files, made harmless where a person reads it. */
public final class ShownText {

  private ShownText() {}

  /**
   * Replaces what a terminal or a browser does not print as it stands: control characters, marks
   * that turn the direction of text or join letters, separators of lines and paragraphs, and halves
   * of pairs. Each is shown by its number, for instance {@code \\u202e}.
   *
   * @param text any text
   * @return the text, the same if it has none of these
   */
  public static String of(String text) {
    return of(text, false);
  }

  /**
   * Does the same for text of several lines: line feeds and tabs stay.
   *
   * @param text any text
   * @return the text, the same if it has none of these
   */
  public static String ofLines(String text) {
    return of(text, true);
  }

  private static String of(String text, boolean lines) {
    if (text.codePoints().allMatch(c -> isPlain(c, lines))) {
      return text;
    }
    StringBuilder shown = new StringBuilder();
    text.codePoints()
        .forEach(
            c -> {
              if (isPlain(c, lines)) {
                shown.appendCodePoint(c);
              } else {
                shown.append(String.format(Locale.ROOT, "\\u%04x", c));
              }
            });
    return shown.toString();
  }

  private static boolean isPlain(int c, boolean lines) {
    return switch (Character.getType(c)) {
      case Character.CONTROL -> lines && (c == '\n' || c == '\t');
      case Character.FORMAT,
          Character.LINE_SEPARATOR,
          Character.PARAGRAPH_SEPARATOR,
          Character.SURROGATE,
          Character.UNASSIGNED ->
          false;
      default -> true;
    };
  }
}

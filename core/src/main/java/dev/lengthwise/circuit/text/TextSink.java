package dev.lengthwise.circuit.text;

/**
 * Collects the lines of an emitted file: ASCII, ended by LF, indented by two spaces a level, never
 * with a space at the end.
 */
public final class TextSink {

  private final StringBuilder text = new StringBuilder();
  private int level;

  /** Makes an empty sink. */
  public TextSink() {}

  /**
   * Adds a line; an empty one carries no indentation.
   *
   * @param line printable ASCII without a line end
   * @return this sink
   * @throws IllegalArgumentException if it is not
   */
  public TextSink line(String line) {
    String body = line.stripTrailing();
    for (int i = 0; i < body.length(); i++) {
      if (body.charAt(i) < ' ' || body.charAt(i) > '~') {
        throw new IllegalArgumentException(
            "emitted line: only printable ASCII is allowed, found character 0x"
                + Integer.toHexString(body.charAt(i)));
      }
    }
    if (!body.isEmpty()) {
      text.append("  ".repeat(level)).append(body);
    }
    text.append('\n');
    return this;
  }

  /**
   * Adds an empty line, unless the last one is empty.
   *
   * @return this sink
   */
  public TextSink blank() {
    if (!text.isEmpty() && text.lastIndexOf("\n\n") != text.length() - 2) {
      text.append('\n');
    }
    return this;
  }

  /**
   * Adds a line and indents what follows.
   *
   * @param line as for {@link #line}
   * @return this sink
   */
  public TextSink open(String line) {
    line(line);
    level++;
    return this;
  }

  /**
   * Takes back one level and adds a line.
   *
   * @param line as for {@link #line}
   * @return this sink
   * @throws IllegalStateException if no level is open
   */
  public TextSink close(String line) {
    if (level == 0) {
      throw new IllegalStateException(
          "emitted text: a level must be open to be closed, found none");
    }
    level--;
    return line(line);
  }

  /**
   * Adds a line one level back, between what was indented and what follows.
   *
   * @param line as for {@link #line}
   * @return this sink
   * @throws IllegalStateException if no level is open
   */
  public TextSink between(String line) {
    close(line);
    level++;
    return this;
  }

  /**
   * Adds the lines of a comment.
   *
   * @param mark what starts a comment up to the line's end
   * @param comment any text
   * @return this sink
   */
  public TextSink comment(String mark, String comment) {
    CommentText.wrap(comment, 96 - 2 * level - mark.length())
        .forEach(line -> line(line.isEmpty() ? mark : mark + " " + line));
    return this;
  }

  /**
   * Returns the columns that the indentation takes.
   *
   * @return columns
   */
  public int indentation() {
    return 2 * level;
  }

  /**
   * Returns what was added.
   *
   * @return the text
   */
  public String text() {
    return text.toString();
  }
}

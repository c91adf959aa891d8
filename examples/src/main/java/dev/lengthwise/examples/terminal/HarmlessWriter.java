package dev.lengthwise.examples.terminal;

import dev.lengthwise.file.ShownText;
import java.io.FilterWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.PrintWriter;
import java.nio.charset.Charset;

/** Passes on lines of text without what would control a terminal, wherever it came from. */
public final class HarmlessWriter extends FilterWriter {

  private HarmlessWriter(OutputStream out) {
    super(new OutputStreamWriter(out, Charset.defaultCharset()));
  }

  /**
   * Returns a writer that passes lines on at once.
   *
   * @param out where to
   * @return the writer
   */
  public static PrintWriter to(OutputStream out) {
    return new PrintWriter(new HarmlessWriter(out), true);
  }

  @Override
  public void write(int character) throws IOException {
    write(Character.toString(character));
  }

  @Override
  public void write(char[] text, int offset, int length) throws IOException {
    write(new String(text, offset, length));
  }

  @Override
  public void write(String text, int offset, int length) throws IOException {
    // The end of a line may be two characters where the system has it so.
    String lines = text.substring(offset, offset + length).replace(System.lineSeparator(), "\n");
    out.write(ShownText.ofLines(lines));
    out.flush();
  }
}

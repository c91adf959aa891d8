package dev.lengthwise.file;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/**
 * Prints rows as comma-separated values as in RFC 4180, but with line feeds.
 *
 * <p>Text that a spreadsheet would take for a formula, as it starts with {@code = + - @}, has an
 * apostrophe before it, and so has text that starts with one; {@link #read} takes it away again.
 * That spreadsheets do so, and that the apostrophe keeps them from it, is common practice, no
 * source. Numbers stay numbers. Control characters and marks of direction are shown as {@link
 * ShownText} does.
 */
public final class CsvFields {

  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180.builder().setRecordSeparator('\n').get();

  private static final Pattern NUMBER = Pattern.compile("-?[0-9]+(\\.[0-9]+)?");

  /** Starts of formulas, those of full width too, and the apostrophe. */
  private static final String STARTS = "=+-@'\uff1d\uff0b\uff0d\uff20";

  private CsvFields() {}

  /**
   * Prints a table.
   *
   * @param heads the names of the columns
   * @param rows the values of each row; all but numbers are text
   * @return the lines
   */
  public static String text(List<String> heads, List<List<Object>> rows) {
    StringBuilder text = new StringBuilder();
    try (CSVPrinter printer = new CSVPrinter(text, FORMAT)) {
      printer.printRecord(heads);
      for (List<Object> row : rows) {
        List<String> fields = new ArrayList<>();
        row.forEach(value -> fields.add(field(value.toString())));
        printer.printRecord(fields);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("a string builder takes all text", e);
    }
    return text.toString();
  }

  private static String field(String text) {
    String shown = ShownText.of(text);
    return !shown.isEmpty()
            && STARTS.indexOf(shown.charAt(0)) >= 0
            && !NUMBER.matcher(shown).matches()
        ? "'" + shown
        : shown;
  }

  /**
   * Returns the text that a field was printed of.
   *
   * @param field a field, without the quotes around it
   * @return the text
   */
  public static String read(String field) {
    return field.length() > 1 && field.charAt(0) == '\'' && STARTS.indexOf(field.charAt(1)) >= 0
        ? field.substring(1)
        : field;
  }
}

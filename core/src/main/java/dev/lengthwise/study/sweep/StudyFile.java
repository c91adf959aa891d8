package dev.lengthwise.study.sweep;

import dev.lengthwise.file.CsvFields;
import dev.lengthwise.file.FileFault;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.file.WholeFiles;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.fetch.FrontEnd;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.CharBuffer;
import java.nio.charset.CharsetDecoder;
import java.nio.charset.CoderResult;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/**
 * The file {@code study.csv}: {@code design, style, lut_inputs, luts_per_lane, sites_per_lane,
 * levels, handled_share, exact_share, ipc, stream, made_of}, as {@link CsvFields} prints them.
 *
 * <p>{@code made_of} says what a row depends on, as {@code decoder=2}, with blanks between; sets,
 * devices, caches, code and traces have a digest there. It is read strictly: what the writer does
 * not write is refused.
 */
public final class StudyFile {

  /** The most rows of a file. */
  public static final int MOST_ROWS = 1 << 20;

  private static final int MOST_BYTES = 1 << 29;

  private static final List<String> HEADS =
      List.of(
          "design",
          "style",
          "lut_inputs",
          "luts_per_lane",
          "sites_per_lane",
          "levels",
          "handled_share",
          "exact_share",
          "ipc",
          "stream",
          "made_of");

  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180.builder().setIgnoreEmptyLines(false).get();

  private static final Pattern COUNT = Pattern.compile("0|[1-9][0-9]{0,8}");

  private static final Pattern DECIMAL = Pattern.compile("[0-9]{1,3}(\\.[0-9]{1,9})?");

  private final String name;
  private CSVRecord line;

  private StudyFile(Path file) {
    this.name = ShownText.of(file.toString());
  }

  /**
   * Prints rows.
   *
   * @param rows the rows
   * @return the text of the file
   */
  public static String text(List<StudyRow> rows) {
    List<List<Object>> cells = new ArrayList<>();
    for (StudyRow row : rows) {
      cells.add(
          List.of(
              row.design(),
              row.style(),
              row.lutInputs(),
              row.lutsPerLane(),
              row.sitesPerLane(),
              row.levels(),
              StudyRow.fixed(row.handledShare(), 6),
              StudyRow.fixed(row.exactShare(), 6),
              row.ipc().isPresent() ? StudyRow.fixed(row.ipc().getAsDouble(), 4) : "",
              row.stream(),
              row.madeOf()));
    }
    return CsvFields.text(HEADS, cells);
  }

  /**
   * Writes rows.
   *
   * @param file the file; its folder is made if it is missing
   * @param rows the rows
   * @throws IOException if the file cannot be written; an old one is left as it was
   */
  public static void write(Path file, List<StudyRow> rows) throws IOException {
    WholeFiles.write(file, text(rows));
  }

  /**
   * Reads rows.
   *
   * @param file the file
   * @return its rows in order, the first one from line 2
   * @throws IOException if the file cannot be read or is no such file; the message names the line,
   *     the column, what is expected and what was found
   */
  public static List<StudyRow> read(Path file) throws IOException {
    return new StudyFile(file).rows(file);
  }

  private List<StudyRow> rows(Path file) throws IOException {
    List<StudyRow> rows = new ArrayList<>();
    Map<StudyRow.Key, Integer> lines = new LinkedHashMap<>();
    int number = 1;
    try (CSVParser parser = FORMAT.parse(new StringReader(decoded(file)))) {
      for (CSVRecord record : parser) {
        line = record;
        if (number == 1) {
          if (!Arrays.asList(record.values()).equals(HEADS)) {
            throw wrong(number, "", "the columns " + String.join(",", HEADS), joined());
          }
        } else {
          StudyRow row = row(number);
          Integer before = lines.putIfAbsent(row.key(), number);
          if (before != null) {
            throw wrong(
                number, "", "a row that is not given before", row.key() + " of line " + before);
          }
          rows.add(row);
        }
        if (number++ > MOST_ROWS) {
          throw wrong(number, "", "at most " + MOST_ROWS + " rows", "more");
        }
      }
    } catch (UncheckedIOException e) {
      throw new IOException(
          String.format(
              Locale.ROOT,
              "%s, line %d: comma-separated values are expected, found %s",
              name,
              number,
              ShownText.of(String.valueOf(e.getCause().getMessage()))),
          e);
    }
    if (number == 1) {
      throw new IOException(
          name
              + ", line 1: the columns "
              + String.join(",", HEADS)
              + " are expected, found the end of the file");
    }
    return rows;
  }

  private StudyRow row(int number) throws IOException {
    if (line.size() != HEADS.size()) {
      throw wrong(number, "", HEADS.size() + " values", joined());
    }
    String style = name(number, 1);
    if (Arrays.stream(Style.values()).noneMatch(s -> s.label().equals(style))) {
      throw wrong(number, column(1), "a style", style);
    }
    String made = name(number, 10);
    if (!RowMake.TEXT.matcher(made).matches()) {
      throw wrong(number, column(10), "name=value with blanks between", made);
    }
    return new StudyRow(
        name(number, 0),
        style,
        count(number, 2),
        count(number, 3),
        count(number, 4),
        count(number, 5),
        decimal(number, 6, 1),
        decimal(number, 7, 1),
        line.get(8).isEmpty()
            ? OptionalDouble.empty()
            : OptionalDouble.of(decimal(number, 8, FrontEnd.MOST_WIDTH)),
        name(number, 9),
        made);
  }

  private String name(int number, int column) throws IOException {
    String text = CsvFields.read(line.get(column));
    if (!ShownText.of(text).equals(text)) {
      throw wrong(number, column(column), "text without control characters", line.get(column));
    }
    return text;
  }

  private int count(int number, int column) throws IOException {
    String text = line.get(column);
    if (!COUNT.matcher(text).matches()) {
      throw wrong(number, column(column), "a count in [0, 999999999]", text);
    }
    return Integer.parseInt(text);
  }

  private double decimal(int number, int column, int most) throws IOException {
    String text = line.get(column);
    if (!DECIMAL.matcher(text).matches() || Double.parseDouble(text) > most) {
      throw wrong(number, column(column), "a decimal number in [0, " + most + "]", text);
    }
    return Double.parseDouble(text);
  }

  private static String column(int index) {
    return ", column " + (index + 1) + " (" + HEADS.get(index) + ")";
  }

  private String joined() {
    return String.join(",", line.values());
  }

  private IOException wrong(int number, String column, String expected, String found) {
    String shown = ShownText.of(found.length() > 200 ? found.substring(0, 200) + "..." : found);
    return new IOException(
        String.format(
            Locale.ROOT,
            "%s, line %d%s: %s %s expected, found %s",
            name,
            number,
            column,
            expected,
            column.isEmpty() && !expected.startsWith("a ") ? "are" : "is",
            shown.isEmpty() ? "nothing" : shown));
  }

  /** Returns the text of a file, whose every line must be UTF-8. */
  private String decoded(Path file) throws IOException {
    byte[] bytes;
    try (InputStream in = Files.newInputStream(file)) {
      bytes = in.readNBytes(MOST_BYTES + 1);
    } catch (IOException e) {
      throw FileFault.reading(name, e);
    }
    if (bytes.length > MOST_BYTES) {
      throw new IOException(name + ": at most " + MOST_BYTES + " bytes are expected, found more");
    }
    ByteBuffer in = ByteBuffer.wrap(bytes);
    CharBuffer text = CharBuffer.allocate(bytes.length);
    CharsetDecoder decoder = StandardCharsets.UTF_8.newDecoder();
    CoderResult result = decoder.decode(in, text, true);
    if (result.isError()) {
      int number = 1;
      for (int i = 0; i < in.position(); i++) {
        number += bytes[i] == '\n' ? 1 : 0;
      }
      throw new IOException(
          String.format(
              Locale.ROOT,
              "%s, line %d: UTF-8 text is expected, found 0x%02x",
              name,
              number,
              bytes[in.position()]));
    }
    return text.flip().toString();
  }
}

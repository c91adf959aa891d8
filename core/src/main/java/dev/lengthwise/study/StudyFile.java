package dev.lengthwise.study;

import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.OptionalDouble;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;

/**
 * The file {@code study.csv}: {@code design, style, lut_inputs, luts_per_lane, sites_per_lane,
 * levels, handled_share, exact_share, ipc, stream}, comma-separated as in RFC 4180 but with line
 * feeds.
 */
public final class StudyFile {

  private static final String[] HEADS = {
    "design",
    "style",
    "lut_inputs",
    "luts_per_lane",
    "sites_per_lane",
    "levels",
    "handled_share",
    "exact_share",
    "ipc",
    "stream"
  };

  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180.builder().setRecordSeparator('\n').get();

  private StudyFile() {}

  /**
   * Prints rows.
   *
   * @param rows the rows
   * @return the text of the file
   */
  public static String text(List<StudyRow> rows) {
    StringBuilder text = new StringBuilder();
    try (CSVPrinter printer = new CSVPrinter(text, FORMAT)) {
      printer.printRecord((Object[]) HEADS);
      for (StudyRow row : rows) {
        printer.printRecord(
            row.design(),
            row.style(),
            row.lutInputs(),
            row.lutsPerLane(),
            row.sitesPerLane(),
            row.levels(),
            StudyRow.fixed(row.handledShare(), 6),
            StudyRow.fixed(row.exactShare(), 6),
            row.ipc().isPresent() ? StudyRow.fixed(row.ipc().getAsDouble(), 4) : "",
            row.stream());
      }
    } catch (IOException e) {
      throw new UncheckedIOException("a string builder takes all text", e);
    }
    return text.toString();
  }

  /**
   * Writes rows to a temporary file beside, and moves that into place.
   *
   * @param file the file; its folder is made if it is missing
   * @param rows the rows
   * @throws IOException if the file cannot be written; an old one is left as it was
   */
  public static void write(Path file, List<StudyRow> rows) throws IOException {
    Path folder = file.toAbsolutePath().getParent();
    Files.createDirectories(folder);
    Path temporary = Files.createTempFile(folder, "study", ".part");
    try {
      Files.writeString(temporary, text(rows), StandardCharsets.UTF_8);
      Files.move(temporary, file, StandardCopyOption.REPLACE_EXISTING);
    } finally {
      Files.deleteIfExists(temporary);
    }
  }

  /**
   * Reads rows.
   *
   * @param file the file
   * @return its rows in order
   * @throws IOException if the file cannot be read or is no such file; the message names the line,
   *     what is expected and what was found
   */
  public static List<StudyRow> read(Path file) throws IOException {
    List<StudyRow> rows = new ArrayList<>();
    try (Reader reader = Files.newBufferedReader(file, StandardCharsets.UTF_8);
        CSVParser parser = FORMAT.parse(reader)) {
      for (CSVRecord line : parser) {
        if (line.getRecordNumber() == 1) {
          if (!Arrays.equals(line.values(), HEADS)) {
            throw wrong(file, 1, "the columns " + String.join(",", HEADS), line);
          }
        } else {
          rows.add(row(file, line));
        }
      }
    } catch (UncheckedIOException e) {
      throw new IOException(file + ": comma-separated values are expected, " + e.getMessage(), e);
    }
    return rows;
  }

  private static StudyRow row(Path file, CSVRecord line) throws IOException {
    if (line.size() != HEADS.length) {
      throw wrong(file, line.getRecordNumber(), HEADS.length + " values", line);
    }
    try {
      return new StudyRow(
          line.get(0),
          line.get(1),
          Integer.parseInt(line.get(2)),
          Integer.parseInt(line.get(3)),
          Integer.parseInt(line.get(4)),
          Integer.parseInt(line.get(5)),
          Double.parseDouble(line.get(6)),
          Double.parseDouble(line.get(7)),
          line.get(8).isEmpty()
              ? OptionalDouble.empty()
              : OptionalDouble.of(Double.parseDouble(line.get(8))),
          line.get(9));
    } catch (NumberFormatException e) {
      throw wrong(file, line.getRecordNumber(), "numbers in columns 3 to 9", line);
    }
  }

  private static IOException wrong(Path file, long row, String expected, CSVRecord found) {
    return new IOException(
        String.format(
            Locale.ROOT,
            "%s, row %d: %s are expected, found %s",
            file,
            row,
            expected,
            String.join(",", found.values())));
  }
}

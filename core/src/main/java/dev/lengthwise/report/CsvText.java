package dev.lengthwise.report;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;

/** Prints rows as comma-separated values as in RFC 4180, but with line feeds. */
final class CsvText {

  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180.builder().setRecordSeparator('\n').get();

  private CsvText() {}

  static String of(List<String> heads, List<List<Object>> rows) {
    StringBuilder text = new StringBuilder();
    try (CSVPrinter printer = new CSVPrinter(text, FORMAT)) {
      printer.printRecord(heads);
      for (List<Object> row : rows) {
        printer.printRecord(row);
      }
    } catch (IOException e) {
      throw new UncheckedIOException("a string builder takes all text", e);
    }
    return text.toString();
  }
}

package dev.lengthwise.realize;

import dev.lengthwise.file.CsvFields;
import dev.lengthwise.file.FileFault;
import dev.lengthwise.file.ShownText;
import java.io.IOException;
import java.io.InputStream;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;

/** Reads a file of designs and the clocks that a flow of the user's found for them. */
final class ClockFile {

  private static final int MOST_BYTES = 1 << 20;
  private static final CSVFormat FORMAT =
      CSVFormat.RFC4180.builder().setIgnoreEmptyLines(false).get();
  private static final Pattern CLOCK = Pattern.compile("[0-9]{1,5}(\\.[0-9]{1,9})?");
  private static final String DESIGN = "design";
  private static final String MHZ = "mhz";
  private static final int SHOWN = 200;

  private final String name;
  private int line = 1;

  private ClockFile(Path file) {
    this.name = ShownText.of(file.toString());
  }

  /**
   * Returns the fastest clock of each design, in the order of the file.
   *
   * @param designs the names that are expected
   */
  static Map<String, Double> read(Path file, Set<String> designs) throws IOException {
    ClockFile reader = new ClockFile(file);
    return reader.clocks(reader.text(file), designs);
  }

  private Map<String, Double> clocks(String text, Set<String> designs) throws IOException {
    Map<String, Double> clocks = new LinkedHashMap<>();
    try (CSVParser parser = FORMAT.parse(new StringReader(text))) {
      List<String> heads = List.of();
      for (CSVRecord record : parser) {
        if (line == 1) {
          heads = heads(record);
        } else {
          if (record.size() != heads.size()) {
            throw wrong(heads.size() + " values are expected", String.join(",", record.values()));
          }
          String design = CsvFields.read(record.get(heads.indexOf(DESIGN)));
          if (!designs.contains(design)) {
            throw wrong("a design of " + designs + " is expected", design);
          }
          clocks.merge(design, mhz(record.get(heads.indexOf(MHZ))), Math::max);
        }
        line++;
      }
      if (line == 1) {
        throw wrong("the columns design and mhz are expected", "the end of the file");
      }
    } catch (UncheckedIOException e) {
      throw wrong("comma-separated values are expected", String.valueOf(e.getCause().getMessage()));
    }
    for (String design : designs) {
      if (!clocks.containsKey(design)) {
        throw wrong("a row of " + design + " is expected", "the end of the file");
      }
    }
    return clocks;
  }

  private List<String> heads(CSVRecord record) throws IOException {
    List<String> heads = Arrays.asList(record.values());
    for (String needed : List.of(DESIGN, MHZ)) {
      if (heads.stream().filter(needed::equals).count() != 1) {
        throw wrong("one column " + needed + " is expected", String.join(",", heads));
      }
    }
    return heads;
  }

  private double mhz(String text) throws IOException {
    double mhz = CLOCK.matcher(text).matches() ? Double.parseDouble(text) : 0;
    if (mhz <= 0) {
      throw wrong("a clock above 0 MHz is expected, as 123.4", text);
    }
    return mhz;
  }

  private IOException wrong(String rule, String found) {
    String shown = ShownText.of(found.length() > SHOWN ? found.substring(0, SHOWN) : found);
    return new IOException(
        String.format(
            Locale.ROOT,
            "%s, line %d: %s, found %s",
            name,
            line,
            rule,
            shown.isEmpty() ? "nothing" : shown));
  }

  /** Names are ASCII; of other columns, any byte will do. */
  private String text(Path file) throws IOException {
    try (InputStream in = Files.newInputStream(file)) {
      byte[] bytes = in.readNBytes(MOST_BYTES + 1);
      if (bytes.length > MOST_BYTES) {
        throw new IOException(name + ": at most " + MOST_BYTES + " bytes are expected, found more");
      }
      return new String(bytes, StandardCharsets.ISO_8859_1);
    } catch (IOException e) {
      throw FileFault.reading(name, e);
    }
  }
}

package dev.lengthwise.examples.timing;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.report.Report;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.function.Predicate;

/**
 * The file {@code timing.csv}, which a run goes on with. Immutable.
 *
 * @param rows in the order of the file
 */
public record TimingFile(List<TimingRow> rows) implements Report {

  /** What the file is called. */
  public static final String NAME = "timing.csv";

  private static final String HEAD = String.join(",", TimingRow.HEADS);

  /**
   * Copies the list.
   *
   * @param rows see TimingFile
   */
  public TimingFile {
    rows = List.copyOf(rows);
  }

  /**
   * Reads the file of a folder; none is one without rows.
   *
   * @throws IOException if it cannot be read
   * @throws IllegalArgumentException if it is no such file; the message names the line
   */
  static TimingFile in(Path folder) throws IOException {
    Path file = folder.resolve(NAME);
    if (!Files.exists(file)) {
      return new TimingFile(List.of());
    }
    String name = ShownText.of(file.toString());
    List<String> lines = Files.readString(file, StandardCharsets.ISO_8859_1).lines().toList();
    String first = lines.isEmpty() ? "nothing" : lines.get(0);
    if (!first.equals(HEAD)) {
      throw new IllegalArgumentException(
          name + ", line 1: " + HEAD + " is expected, found " + ShownText.of(first));
    }
    List<TimingRow> rows = new ArrayList<>();
    for (int i = 1; i < lines.size(); i++) {
      String place = name + ", line " + (i + 1);
      TimingRow row;
      try {
        row = TimingRow.parse(lines.get(i));
      } catch (IllegalArgumentException e) {
        throw new IllegalArgumentException(
            place + ": a row is expected, found " + ShownText.of(lines.get(i)), e);
      }
      if (rows.stream().anyMatch(other -> other.key().equals(row.key()))) {
        throw new IllegalArgumentException(
            place + ": a row that is not given before is expected, found " + row.key());
      }
      rows.add(row);
    }
    return new TimingFile(rows);
  }

  /**
   * Returns the rows of a design.
   *
   * @param design its name
   * @param style which of its styles
   * @return the rows, in the order of the file
   */
  public List<TimingRow> of(String design, Predicate<String> style) {
    return rows.stream()
        .filter(row -> row.key().design().equals(design) && style.test(row.key().style()))
        .toList();
  }

  /**
   * Checks that rows are made as this run would make them.
   *
   * @throws IllegalArgumentException if one is not; the message names its line
   */
  void requireMade(Path folder, List<TimingRow> some, String madeOf) {
    Optional<TimingRow> other =
        some.stream().filter(row -> !row.madeOf().equals(madeOf)).findFirst();
    if (other.isPresent()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "%s, line %d: a row of this run must be made with %s, found %s (%s)",
              ShownText.of(folder.resolve(NAME).toString()),
              rows.indexOf(other.get()) + 2,
              madeOf,
              ShownText.of(other.get().madeOf()),
              other.get().key()));
    }
  }

  /** Returns the file with further rows. */
  TimingFile with(List<TimingRow> added) {
    List<TimingRow> all = new ArrayList<>(rows);
    all.addAll(added);
    return new TimingFile(all);
  }

  @Override
  public OutputFile file() {
    List<List<Object>> cells = new ArrayList<>();
    rows.forEach(row -> cells.add(row.cells()));
    return new OutputFile(NAME, CsvFields.text(TimingRow.HEADS, cells));
  }
}

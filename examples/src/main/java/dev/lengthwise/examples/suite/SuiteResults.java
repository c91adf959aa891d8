package dev.lengthwise.examples.suite;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.report.Report;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * What versions of our mapper made of the suite, beside a general tool: {@code suite.csv}.
 *
 * <p>Columns: {@code version, function, lut_inputs, effort, levels_bound, ours_luts, ours_levels,
 * tool_luts, tool_levels, best_known, best_known_source}. Versions count from 1; a bound is that of
 * the tool's levels, and empty where there was none. Immutable.
 *
 * @param entries one for each version, function, LUT size, effort and kind of bound
 */
public record SuiteResults(List<Entry> entries) implements Report {

  private static final String FILE = "suite.csv";

  private static final List<String> HEADS =
      List.of(
          "version",
          "function",
          "lut_inputs",
          "effort",
          "levels_bound",
          "ours_luts",
          "ours_levels",
          "tool_luts",
          "tool_levels",
          "best_known",
          "best_known_source");

  /**
   * What is measured.
   *
   * @param function the name of a function of the suite
   * @param lutInputs the inputs of a LUT
   * @param effort how long the search was
   * @param bounded whether the tool's levels were the most allowed
   */
  public record Subject(String function, int lutInputs, Effort effort, boolean bounded) {}

  /**
   * LUTs and the levels they are in.
   *
   * @param luts how many
   * @param levels on the longest path
   */
  public record Size(int luts, int levels) {}

  /**
   * One result.
   *
   * @param version of our mapper
   * @param subject what was measured
   * @param ours what we made of it
   * @param tool what the tool did
   */
  public record Entry(int version, Subject subject, Size ours, Size tool) {}

  /**
   * Copies the list.
   *
   * @param entries see SuiteResults
   */
  public SuiteResults {
    entries = List.copyOf(entries);
  }

  /**
   * Returns the results that are kept with the suite.
   *
   * @return them
   */
  public static SuiteResults stored() {
    try (InputStream in = SuiteResults.class.getResourceAsStream(FILE)) {
      return parse(new String(in.readAllBytes(), StandardCharsets.US_ASCII));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /**
   * Returns the results in a folder, or those that are kept with the suite if it has none.
   *
   * @param folder where a {@code suite.csv} may be
   * @return them
   * @throws IOException if there is one that cannot be read
   */
  public static SuiteResults in(Path folder) throws IOException {
    Path file = folder.resolve(FILE);
    return Files.exists(file) ? parse(Files.readString(file, StandardCharsets.US_ASCII)) : stored();
  }

  private static SuiteResults parse(String text) {
    List<String> lines = text.lines().toList();
    String first = lines.isEmpty() ? "none" : lines.get(0);
    if (!first.equals(String.join(",", HEADS))) {
      throw new IllegalArgumentException(
          FILE + ": line 1 must be " + String.join(",", HEADS) + ", found " + first);
    }
    List<Entry> entries = new ArrayList<>();
    for (int i = 1; i < lines.size(); i++) {
      entries.add(entry(lines.get(i), i + 1));
    }
    return new SuiteResults(entries);
  }

  private static Entry entry(String line, int number) {
    String[] fields = line.split(",", -1);
    try {
      Subject subject =
          new Subject(
              fields[1],
              Integer.parseInt(fields[2]),
              Effort.valueOf(fields[3].toUpperCase(Locale.ROOT)),
              !fields[4].isEmpty());
      return new Entry(Integer.parseInt(fields[0]), subject, size(fields, 5), size(fields, 7));
    } catch (IllegalArgumentException | ArrayIndexOutOfBoundsException e) {
      throw new IllegalArgumentException(
          FILE + ": line " + number + " must be a result, found " + line, e);
    }
  }

  private static Size size(String[] fields, int from) {
    return new Size(Integer.parseInt(fields[from]), Integer.parseInt(fields[from + 1]));
  }

  /**
   * Returns the last version.
   *
   * @return 0 if there is none
   */
  public int latest() {
    return entries.stream().mapToInt(Entry::version).max().orElse(0);
  }

  /**
   * Finds the result of a version.
   *
   * @param version the version
   * @param subject what was measured
   * @return the result, if that was
   */
  public Optional<Entry> find(int version, Subject subject) {
    return entries.stream()
        .filter(entry -> entry.version() == version && entry.subject().equals(subject))
        .findFirst();
  }

  /**
   * Finds the tool's result, of the last version that says it.
   *
   * @param function the name of a function of the suite
   * @param lutInputs the inputs of a LUT
   * @return the tool's LUTs and levels, if they were measured
   */
  public Optional<Size> tool(String function, int lutInputs) {
    return entries.stream()
        .filter(
            entry ->
                entry.subject().function().equals(function)
                    && entry.subject().lutInputs() == lutInputs)
        .reduce((one, other) -> other.version() >= one.version() ? other : one)
        .map(Entry::tool);
  }

  /**
   * Returns the results with one more, in the place of an older one of the same version.
   *
   * @param added the result
   * @return the results, the versions in order
   */
  public SuiteResults with(Entry added) {
    List<Entry> next = new ArrayList<>(entries);
    for (int i = 0; i < next.size(); i++) {
      Entry entry = next.get(i);
      if (entry.version() == added.version() && entry.subject().equals(added.subject())) {
        next.set(i, added);
        return new SuiteResults(next);
      }
      if (entry.version() > added.version()) {
        next.add(i, added);
        return new SuiteResults(next);
      }
    }
    next.add(added);
    return new SuiteResults(next);
  }

  @Override
  public OutputFile file() {
    List<SuiteFunction> functions = Suite.functions();
    List<List<Object>> rows = new ArrayList<>();
    for (Entry entry : entries) {
      Subject subject = entry.subject();
      Optional<SuiteFunction.KnownLuts> known =
          functions.stream()
              .filter(function -> function.name().equals(subject.function()))
              .findFirst()
              .flatMap(function -> Optional.ofNullable(function.known().get(subject.lutInputs())));
      rows.add(
          List.of(
              entry.version(),
              subject.function(),
              subject.lutInputs(),
              subject.effort().name().toLowerCase(Locale.ROOT),
              subject.bounded() ? Math.max(1, entry.tool().levels()) : "",
              entry.ours().luts(),
              entry.ours().levels(),
              entry.tool().luts(),
              entry.tool().levels(),
              known.<Object>map(SuiteFunction.KnownLuts::luts).orElse(""),
              known.map(SuiteFunction.KnownLuts::source).orElse("")));
    }
    return new OutputFile(FILE, CsvFields.text(HEADS, rows));
  }
}

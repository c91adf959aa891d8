package dev.lengthwise.study.sweep;

import dev.lengthwise.file.ShownText;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.study.workload.StudyStream;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;

/**
 * The rows of a study's files, each checked to be made as the sweep would make it. Rows of other
 * variants or streams stay where they are in the file.
 */
final class KnownRows {

  private final List<StudyRow.Key> order = new ArrayList<>();
  private final Map<StudyRow.Key, String> makes = new LinkedHashMap<>();
  private final Set<String> streams = new LinkedHashSet<>();

  /** What the sweep's rows are made of: the values of each part. */
  private final Map<String, Set<String>> values = new TreeMap<>();

  private final Map<StudyRow.Key, StudyRow> own = new LinkedHashMap<>();
  private final Map<StudyRow.Key, StudyRow> others = new LinkedHashMap<>();

  /** The others that stand behind a row of the sweep, or before the first one. */
  private final Map<Optional<StudyRow.Key>, List<StudyRow>> behind = new LinkedHashMap<>();

  public KnownRows(List<Variant> variants, List<StudyStream> streams, Effort effort) {
    for (Variant variant : variants) {
      for (StudyStream stream : streams) {
        String make = RowMake.of(variant, stream, effort);
        StudyRow.Key key = key(variant, stream);
        order.add(key);
        makes.put(key, make);
        this.streams.add(stream.name());
        RowMake.parts(make).forEach((name, value) -> values(name).add(value));
      }
    }
  }

  private Set<String> values(String part) {
    return values.computeIfAbsent(part, name -> new LinkedHashSet<>());
  }

  public static StudyRow.Key key(Variant variant, StudyStream stream) {
    return new StudyRow.Key(
        variant.name(), variant.style().label(), RowMake.device(variant.device()), stream.name());
  }

  public String make(StudyRow.Key key) {
    return makes.get(key);
  }

  public boolean has(StudyRow.Key key) {
    return own.containsKey(key);
  }

  public void put(StudyRow row) {
    own.put(row.key(), row);
  }

  /** Takes over the rows of a file. */
  public void read(Path file) throws IOException {
    List<StudyRow> rows = StudyFile.read(file);
    Optional<StudyRow.Key> last = Optional.empty();
    for (int i = 0; i < rows.size(); i++) {
      StudyRow row = rows.get(i);
      StudyRow.Key key = row.key();
      String place = ShownText.of(file.toString()) + ", line " + (i + 2);
      checkMake(place, row);
      StudyRow before = own.containsKey(key) ? own.get(key) : others.get(key);
      if (before != null && !before.equals(row)) {
        throw new IOException(
            place
                + ": a row must say what it says in the other files, found other figures of "
                + key);
      }
      if (makes.containsKey(key)) {
        own.put(key, row);
        last = Optional.of(key);
      } else if (before == null) {
        others.put(key, row);
        behind.computeIfAbsent(last, k -> new ArrayList<>()).add(row);
      }
    }
  }

  private void checkMake(String place, StudyRow row) throws IOException {
    Map<String, String> found = RowMake.parts(row.madeOf());
    List<String> expected = new ArrayList<>();
    List<String> other = new ArrayList<>();
    Map<String, String> exact =
        makes.containsKey(row.key()) ? RowMake.parts(makes.get(row.key())) : Map.of();
    Set<String> parts = new LinkedHashSet<>(exact.isEmpty() ? values.keySet() : exact.keySet());
    if (exact.isEmpty()) {
      parts.removeAll(RowMake.OF_LANE);
      if (!streams.contains(row.stream())) {
        parts.removeAll(RowMake.OF_STREAM);
      }
    }
    for (String part : parts) {
      Set<String> allowed = exact.isEmpty() ? values.get(part) : Set.of(exact.get(part));
      String value = found.getOrDefault(part, "nothing");
      if (!allowed.contains(value)) {
        expected.add(part + '=' + String.join("|", allowed));
        other.add(part + '=' + value);
      }
    }
    if (!other.isEmpty()) {
      throw new IOException(
          String.format(
              Locale.ROOT,
              "%s: a row of this study must be made with %s, found %s (%s on %s)",
              place,
              String.join(" ", expected),
              String.join(" ", other),
              row.design(),
              row.stream()));
    }
  }

  /** Returns the sweep's rows that there are, in the order of variants and streams. */
  public List<StudyRow> own() {
    return order.stream().filter(own::containsKey).map(own::get).toList();
  }

  /** Returns the same with all others at their places. */
  public List<StudyRow> all() {
    List<StudyRow> rows = new ArrayList<>(behind.getOrDefault(Optional.empty(), List.of()));
    for (StudyRow row : own()) {
      rows.add(row);
      rows.addAll(behind.getOrDefault(Optional.of(row.key()), List.of()));
    }
    return rows;
  }
}

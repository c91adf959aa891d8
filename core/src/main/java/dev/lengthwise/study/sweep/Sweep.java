package dev.lengthwise.study.sweep;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.file.WriteLock;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.work.Work;
import dev.lengthwise.work.Workers;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.concurrent.CompletionService;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorCompletionService;

/**
 * Evaluates variants on streams, in parallel, and keeps the results in {@code study.csv}.
 *
 * <p>A row that the file has already is not evaluated anew, so a sweep that was broken off goes on
 * where it was. The file says what each row is made of: instruction set, lane, device, effort,
 * front end, code, modes and trace. A row that is made of something else than this sweep would make
 * it of is refused, and so is one of another lane or stream that differs in what a study's rows
 * share; the message says in what. Rows are never taken away. One run at a time writes a file. A
 * slice {@code i/n} evaluates every n-th lane; the slices' files together have the rows of the
 * whole, and {@link #merge} puts them in the same order, so the bytes are the same. Immutable.
 */
public final class Sweep {

  private final List<Variant> variants;
  private final List<StudyStream> streams;
  private final Settings settings;

  /** Which slice a sweep is of how many, and how it works. */
  private record Settings(int part, int parts, int threads, Effort effort, Progress progress) {}

  /** Is told how a sweep goes on, by one thread at a time. */
  @FunctionalInterface
  public interface Progress {

    /**
     * Reports.
     *
     * @param finished the rows that are finished
     * @param all the rows of the slice
     */
    void report(int finished, int all);
  }

  private Sweep(List<Variant> variants, List<StudyStream> streams, Settings settings) {
    this.variants = List.copyOf(variants);
    this.streams = List.copyOf(streams);
    this.settings = settings;
  }

  /**
   * Returns a sweep over all variants, with a thread for each processor and {@link Effort#QUICK}.
   *
   * @param variants the variants, as {@link VariantSpace#variants()} or a hand-made list
   * @param streams the streams, names differing
   * @return the sweep
   * @throws IllegalArgumentException if a row would be there twice
   */
  public static Sweep of(List<Variant> variants, List<StudyStream> streams) {
    Set<StudyRow.Key> keys = new HashSet<>();
    for (Variant variant : variants) {
      for (StudyStream stream : streams) {
        if (!keys.add(KnownRows.key(variant, stream))) {
          throw new IllegalArgumentException(
              "sweep: a variant's name, style and device, and a stream's name, must differ,"
                  + String.format(
                      Locale.ROOT, " found %s on %s again", variant.name(), stream.name()));
        }
      }
    }
    return new Sweep(
        variants,
        streams,
        new Settings(
            1, 1, Runtime.getRuntime().availableProcessors(), Effort.QUICK, (finished, all) -> {}));
  }

  /**
   * Returns the sweep over a slice.
   *
   * @param i the slice, in [1, n]
   * @param n the slices, at least 1
   * @return a new sweep
   * @throws IllegalArgumentException if a number is out of range
   */
  public Sweep withPart(int i, int n) {
    if (n < 1 || i < 1 || i > n) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT, "sweep: a slice must be i/n with i in [1, n], found %d/%d", i, n));
    }
    return with(new Settings(i, n, settings.threads, settings.effort, settings.progress));
  }

  /**
   * Returns a sweep that works with other threads.
   *
   * @param count the threads, at least 1
   * @return a new sweep
   * @throws IllegalArgumentException if there is none
   */
  public Sweep withThreads(int count) {
    if (count < 1) {
      throw new IllegalArgumentException("sweep: threads must be at least 1, found " + count);
    }
    return with(
        new Settings(settings.part, settings.parts, count, settings.effort, settings.progress));
  }

  /**
   * Returns a sweep that maps with another effort.
   *
   * @param value the effort
   * @return a new sweep
   */
  public Sweep withEffort(Effort value) {
    Objects.requireNonNull(value, "value");
    return with(
        new Settings(settings.part, settings.parts, settings.threads, value, settings.progress));
  }

  /**
   * Returns a sweep that reports.
   *
   * @param listener is told after each lane
   * @return a new sweep
   */
  public Sweep withProgress(Progress listener) {
    Objects.requireNonNull(listener, "listener");
    return with(
        new Settings(settings.part, settings.parts, settings.threads, settings.effort, listener));
  }

  private Sweep with(Settings other) {
    return new Sweep(variants, streams, other);
  }

  /** Variants that differ in their front end only, and so have one lane to realise. */
  private record Lane(Predecoder lane, Style style, DeviceProfile device) {}

  /** Returns the variants of the slice by lane. */
  private List<List<Variant>> slice() {
    Map<Lane, List<Variant>> lanes = new LinkedHashMap<>();
    for (Variant variant : variants) {
      lanes
          .computeIfAbsent(
              new Lane(variant.lane(), variant.style(), variant.device()),
              lane -> new ArrayList<>())
          .add(variant);
    }
    List<List<Variant>> all = List.copyOf(lanes.values());
    List<List<Variant>> slice = new ArrayList<>();
    for (int i = settings.part - 1; i < all.size(); i += settings.parts) {
      slice.add(all.get(i));
    }
    return slice;
  }

  /**
   * Evaluates what the file does not have yet, and rewrites the file after each lane.
   *
   * @param file where rows are kept; it need not exist
   * @return the rows of the slice, variant by variant in their order, stream by stream
   * @throws IOException if the file cannot be read or written, has rows that are made of something
   *     else, or another run is writing it
   * @throws CancelledException if the thread is interrupted; the file has the rows finished before
   */
  public List<StudyRow> run(Path file) throws IOException {
    WriteLock lock = WriteLock.of(file);
    try {
      KnownRows known = new KnownRows(variants, streams, settings.effort);
      if (Files.exists(file)) {
        known.read(file);
      }
      evaluate(known, file);
      Set<StudyRow.Key> wanted = keys(slice());
      StudyFile.write(file, known.all());
      return known.own().stream().filter(row -> wanted.contains(row.key())).toList();
    } finally {
      lock.close();
    }
  }

  private Set<StudyRow.Key> keys(List<List<Variant>> lanes) {
    Set<StudyRow.Key> keys = new LinkedHashSet<>();
    lanes.forEach(l -> l.forEach(v -> streams.forEach(s -> keys.add(KnownRows.key(v, s)))));
    return keys;
  }

  private void evaluate(KnownRows known, Path file) throws IOException {
    Set<StudyRow.Key> missing = keys(slice());
    int all = missing.size();
    missing.removeIf(known::has);
    settings.progress.report(all - missing.size(), all);
    try (Workers workers = Workers.of(settings.threads)) {
      CompletionService<List<StudyRow>> work = new ExecutorCompletionService<>(workers);
      int waiting = 0;
      Set<StudyRow.Key> asked = Set.copyOf(missing);
      for (List<Variant> lane : longestFirst(slice())) {
        if (keys(List.of(lane)).stream().anyMatch(asked::contains)) {
          work.submit(() -> evaluate(lane, asked, known));
          waiting++;
        }
      }
      while (waiting > 0) {
        for (StudyRow row : work.take().get()) {
          known.put(row);
          missing.remove(row.key());
        }
        waiting--;
        StudyFile.write(file, known.all());
        settings.progress.report(all - missing.size(), all);
      }
    } catch (ExecutionException e) {
      throw Workers.failure(e);
    } catch (InterruptedException e) {
      throw Work.cancelled(e);
    }
  }

  /** So that no thread is left with a long one at the end: fuller lanes take longer to realise. */
  private static List<List<Variant>> longestFirst(List<List<Variant>> lanes) {
    return lanes.stream()
        .sorted(Comparator.comparingInt(variants -> -fullness(variants.get(0).lane())))
        .toList();
  }

  private static int fullness(Predecoder lane) {
    return (1 + lane.mostFolded()) * lane.longest() * lane.lookahead();
  }

  private List<StudyRow> evaluate(List<Variant> lane, Set<StudyRow.Key> asked, KnownRows known) {
    Variant first = lane.get(0);
    BlockCost cost =
        Realizer.on(first.device())
            .withEffort(settings.effort)
            .realize(first.lane(), first.style())
            .unprovedTotal();
    List<StudyRow> rows = new ArrayList<>();
    for (StudyStream stream : streams) {
      Accuracy accuracy = stream.accuracy(first.lane());
      for (Variant variant : lane) {
        StudyRow.Key key = KnownRows.key(variant, stream);
        if (asked.contains(key)) {
          rows.add(
              new StudyRow(
                  variant.name(),
                  variant.style().label(),
                  variant.device().lutInputs(),
                  cost.luts(),
                  cost.sites(),
                  cost.levels(),
                  accuracy.handledShare(),
                  accuracy.exactShare(),
                  stream.isOrdered()
                      ? OptionalDouble.of(
                          stream.throughput(variant.lane(), variant.frontEnd()).ipc())
                      : OptionalDouble.empty(),
                  stream.name(),
                  known.make(key)));
        }
      }
    }
    return rows;
  }

  /**
   * Merges the files of all slices, and what the file to be written has already.
   *
   * @param slices the files
   * @param file where to write the rows of the whole sweep
   * @return the rows
   * @throws IOException if a file cannot be read or written, has rows that are made of something
   *     else, or another run is writing it
   * @throws IllegalStateException if a row is missing
   */
  public List<StudyRow> merge(List<Path> slices, Path file) throws IOException {
    WriteLock lock = WriteLock.of(file);
    try {
      KnownRows known = new KnownRows(variants, streams, settings.effort);
      for (Path slice : slices) {
        known.read(slice);
      }
      List<StudyRow> rows = known.own();
      int all = variants.size() * streams.size();
      if (rows.size() != all) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "sweep: slices must have the %d rows of the whole, found %d",
                all,
                rows.size()));
      }
      if (Files.exists(file)) {
        known.read(file);
      }
      StudyFile.write(file, known.all());
      return rows;
    } finally {
      lock.close();
    }
  }
}

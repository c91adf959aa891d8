package dev.lengthwise.examples;

import com.google.common.io.MoreFiles;
import dev.lengthwise.examples.timing.MeasuredFronts;
import dev.lengthwise.examples.timing.TimedLane;
import dev.lengthwise.examples.timing.TimingFile;
import dev.lengthwise.examples.timing.TimingRow;
import dev.lengthwise.examples.timing.TimingRun;
import dev.lengthwise.testbench.flow.OpenFlow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.function.Predicate;
import java.util.regex.MatchResult;
import java.util.regex.Pattern;

/**
 * A lane as written by hand and as networks of ours, as the example {@code timing} measures them
 * (Debian packages yosys and nextpnr-ice40): LUTs as counted, clocks in whole MHz.
 */
final class TimedFigures {

  /** Those of the example. */
  private static final int SEEDS = 5;

  private static final int FEWER_LEVELS = 1;

  private TimedFigures() {}

  /** Returns the releases of the programs that measure. */
  static List<String> versions() {
    return Pattern.compile("=([0-9]+[.][0-9]+)")
        .matcher(new OpenFlow().versions())
        .results()
        .map((MatchResult found) -> found.group(1))
        .toList();
  }

  /**
   * Returns LUTs and clock of the text, by the script that makes fewest LUTs of it and by the one
   * that makes it fastest, and then of the networks with the fewest LUTs and the highest clock.
   */
  static List<?> of(String lane) throws IOException {
    Path folder = Files.createTempDirectory("timed_figures");
    try {
      TimingRun run = new TimingRun(folder, SEEDS, FEWER_LEVELS);
      run.lane(lane, TimedLane.all().get(lane).get());
      return of(run.file(), lane);
    } finally {
      MoreFiles.deleteRecursively(folder);
    }
  }

  /** Returns the same of a lane that was measured once; {@code TimedFrontsTest} says how. */
  static List<?> kept(String lane) throws Exception {
    return of(MeasuredFronts.file(), lane);
  }

  private static List<Object> of(TimingFile file, String lane) {
    List<Object> figures = new ArrayList<>();
    List<Predicate<String>> styles =
        List.of(TimingRun.CASE_TEXT::equals, style -> style.startsWith(TimingRun.NETWORK));
    for (Predicate<String> style : styles) {
      figures.addAll(ends(file.of(lane, style)));
    }
    return figures;
  }

  /** Returns the one of the fewest LUTs and the fastest; of equals, that better in the other. */
  private static List<Object> ends(List<TimingRow> rows) {
    Comparator<TimingRow.Measured> small =
        Comparator.comparing(TimingRow.Measured::luts).reversed();
    Comparator<TimingRow.Measured> fast = Comparator.comparing(TimingRow.Measured::median);
    List<Object> ends = new ArrayList<>();
    for (var order : List.of(small.thenComparing(fast), fast.thenComparing(small))) {
      TimingRow.Measured end = rows.stream().map(TimingRow::measured).max(order).orElseThrow();
      ends.add(end.luts());
      ends.add(Math.round(end.median()));
    }
    return ends;
  }
}

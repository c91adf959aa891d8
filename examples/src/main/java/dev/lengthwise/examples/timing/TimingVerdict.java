package dev.lengthwise.examples.timing;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Whether networks of ours are as small and as fast as the text that a designer writes by hand. */
public final class TimingVerdict {

  private TimingVerdict() {}

  /**
   * Returns a line for each script that the text of a lane was synthesized by.
   *
   * @param file the rows
   * @param name the lane, as rows call it
   * @return the lines
   */
  public static List<String> of(TimingFile file, String name) {
    List<TimingRow> networks = file.of(name, style -> style.startsWith(TimingRun.NETWORK));
    List<String> lines = new ArrayList<>();
    for (TimingRow text : file.of(name, TimingRun.CASE_TEXT::equals)) {
      Optional<TimingRow> met =
          networks.stream()
              .filter(network -> isNoWorse(network.measured(), text.measured()))
              .max(Comparator.comparingDouble(network -> network.measured().median()));
      lines.add(
          String.format(
              Locale.ROOT,
              "%s, case text by %s, %s: %s",
              name,
              text.key().script(),
              figures(text),
              met.map(row -> "no better than " + row.key().style() + ", " + figures(row))
                  .orElse("better than each network in LUTs or clock")));
    }
    return lines;
  }

  private static boolean isNoWorse(TimingRow.Measured one, TimingRow.Measured other) {
    return one.luts() <= other.luts() && one.median() >= other.median();
  }

  private static String figures(TimingRow row) {
    return row.measured().luts() + " LUTs at " + TimingRow.mhz(row.measured().median()) + " MHz";
  }
}

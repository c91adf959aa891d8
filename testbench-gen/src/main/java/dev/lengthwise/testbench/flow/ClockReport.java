package dev.lengthwise.testbench.flow;

import java.util.Arrays;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * What the placer reports of the clock.
 *
 * @param mhz the highest clock from register to register
 * @param inDesign whether the longest such path goes through the design
 */
record ClockReport(double mhz, boolean inDesign) {

  private static final Pattern HIGHEST =
      Pattern.compile("\"achieved\": *([0-9]+(?:[.][0-9]+)?(?:e[+-]?[0-9]+)?)");
  private static final String PATH = "\"from\": \"";

  /** A cell of the block around has no dot in its name, as it is in no block inside. */
  private static final Pattern INSIDE = Pattern.compile("\"cell\": \"[^\".]*\\.");

  /** Reads a report, in JSON. */
  static ClockReport parse(String text) {
    Matcher highest = HIGHEST.matcher(text);
    if (!highest.find()) {
      throw new IllegalStateException("nextpnr-ice40: a clock is expected, found none");
    }
    boolean inside =
        Arrays.stream(text.split(Pattern.quote(PATH), -1))
            .filter(path -> path.startsWith("posedge ") && path.contains("\"to\": \"posedge "))
            .anyMatch(path -> INSIDE.matcher(path).find());
    return new ClockReport(Double.parseDouble(highest.group(1)), inside);
  }

  TimingResult.Trial trial(int seed) {
    return new TimingResult.Trial(seed, mhz, !inDesign);
  }
}

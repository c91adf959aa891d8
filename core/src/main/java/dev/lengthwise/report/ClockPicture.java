package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * Draws {@code timing.svg}: clocks estimated against clocks measured. Where the bar of a design
 * crosses the diagonal, the estimate holds. Immutable.
 *
 * @param points one for each design, at least one
 */
public record ClockPicture(List<Point> points) implements Report {

  private static final int SIZE = 560;
  private static final int LEFT = 64;
  private static final int RIGHT = 540;
  private static final int TOP = 36;
  private static final int BOTTOM = 500;

  private static final double MOST_MHZ = 1e5;

  /** The style of the page of a study, which a picture of its own has to bring. */
  private static final String STYLE =
      "<style>text{font:13px sans-serif;fill:#222}.grid{stroke:#ddd}.same{stroke:#222}"
          + ".range{stroke-width:3;stroke-opacity:0.6}</style>";

  /**
   * A design.
   *
   * @param label what a table calls it
   * @param measuredMhz the clock measured, in MHz, above 0
   * @param lowMhz the least that was estimated, above 0
   * @param highMhz the most that was estimated, at least {@code lowMhz}
   */
  public record Point(String label, double measuredMhz, double lowMhz, double highMhz) {

    /**
     * Checks the clocks.
     *
     * @param label see Point
     * @param measuredMhz see Point
     * @param lowMhz see Point
     * @param highMhz see Point
     * @throws IllegalArgumentException if they are out of range
     */
    public Point {
      Objects.requireNonNull(label, "label");
      if (!(measuredMhz > 0
          && lowMhz > 0
          && highMhz >= lowMhz
          && Math.max(measuredMhz, highMhz) <= MOST_MHZ)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "clock picture: clocks in (0, 1e5] MHz, the low not above the high, are expected,"
                    + " found %s measured, %s to %s",
                measuredMhz,
                lowMhz,
                highMhz));
      }
    }
  }

  /**
   * Copies the list.
   *
   * @param points see ClockPicture
   * @throws IllegalArgumentException if there is no point
   */
  public ClockPicture {
    points = List.copyOf(points);
    if (points.isEmpty()) {
      throw new IllegalArgumentException("clock picture: a point is expected, found none");
    }
  }

  @Override
  public OutputFile file() {
    double most =
        points.stream().mapToDouble(p -> Math.max(p.measuredMhz(), p.highMhz())).max().orElse(1);
    double step = step(most / 5);
    double top = step * Math.ceil(most / step);
    SvgText svg = new SvgText(SIZE, SIZE, "clocks estimated and measured").add("%s", STYLE);
    for (int i = 0; i * step <= top; i++) {
      double mhz = i * step;
      grid(svg, x(mhz, top), TOP, x(mhz, top), BOTTOM);
      grid(svg, LEFT, y(mhz, top), RIGHT, y(mhz, top));
      String label = String.format(Locale.ROOT, "%.0f", mhz);
      svg.label(x(mhz, top), BOTTOM + 18, "middle", label);
      svg.label(LEFT - 8, y(mhz, top) + 4, "end", label);
    }
    svg.label((LEFT + RIGHT) / 2.0, BOTTOM + 40, "middle", "MHz measured, median of the seeds");
    svg.label(LEFT - 8, TOP - 16, "start", "MHz estimated, from low to high");
    svg.add(
        "<line class=\"same\" x1=\"%d\" y1=\"%d\" x2=\"%d\" y2=\"%d\"/>", LEFT, BOTTOM, RIGHT, TOP);
    for (int i = 0; i < points.size(); i++) {
      Point point = points.get(i);
      double x = x(point.measuredMhz(), top);
      svg.add(
          "<line class=\"range\" stroke=\"%s\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\">"
              + "<title>%s</title></line>",
          SvgText.colour(i),
          x,
          y(point.lowMhz(), top),
          x,
          y(point.highMhz(), top),
          SvgText.escaped(point.label()));
    }
    return new OutputFile("timing.svg", svg.toString());
  }

  private static void grid(SvgText svg, double x1, double y1, double x2, double y2) {
    svg.add(
        "<line class=\"grid\" x1=\"%.1f\" y1=\"%.1f\" x2=\"%.1f\" y2=\"%.1f\"/>", x1, y1, x2, y2);
  }

  /** Returns the least of 1, 2 and 5 times a power of ten that is not less. */
  private static double step(double least) {
    double decade = Math.pow(10, Math.floor(Math.log10(least)));
    for (int digit : new int[] {1, 2, 5}) {
      if (digit * decade >= least) {
        return digit * decade;
      }
    }
    return 10 * decade;
  }

  private static double x(double mhz, double top) {
    return LEFT + (RIGHT - LEFT) * mhz / top;
  }

  private static double y(double mhz, double top) {
    return BOTTOM - (BOTTOM - TOP) * mhz / top;
  }
}

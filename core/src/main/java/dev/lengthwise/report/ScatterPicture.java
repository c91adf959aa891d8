package dev.lengthwise.report;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;

/**
 * What designs are worth by what they cost: points over a logarithmic axis, with a line along those
 * that none of lower cost equals.
 */
final class ScatterPicture {

  private static final int WIDTH = 720;
  private static final int HEIGHT = 360;
  private static final int LEFT = 64;
  private static final int RIGHT = 700;
  private static final int TOP = 44;
  private static final int BOTTOM = 305;

  /** The greatest cost or worth of a point; above it, axes have no room for their numbers. */
  private static final double MOST = 1e12;

  /** The steps of the vertical axis. */
  private static final int STEPS = 5;

  /** Points closer than this share a label. */
  private static final int NEAR = 17;

  /** The most points that a shared label names. */
  private static final int MOST_NAMED = 24;

  private final String title;
  private final String costName;
  private final String worthName;
  private final double top;
  private final boolean percent;
  private final List<Point> points;
  private final double low;
  private final double high;

  /** A design; its label is what a table calls it. */
  record Point(double cost, double worth, String label) {

    Point {
      if (!(cost > 0 && cost <= MOST && worth >= 0 && worth <= MOST)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "scatter picture: a cost above 0 and a worth of at least 0, both at most %.0f, are"
                    + " expected, found %s and %s",
                MOST,
                cost,
                worth));
      }
    }
  }

  /** Points whose label stands at one place. */
  private static final class Place {

    private final double x;
    private final double y;
    private final List<String> labels = new ArrayList<>();

    Place(double x, double y, String label) {
      this.x = x;
      this.y = y;
      labels.add(label);
    }

    String label() {
      int more = labels.size() - MOST_NAMED;
      return more <= 0
          ? String.join(", ", labels)
          : String.join(", ", labels.subList(0, MOST_NAMED)) + " and " + more + " more";
    }

    boolean isNear(double otherX, double otherY) {
      return Math.abs(x - otherX) < NEAR && Math.abs(y - otherY) < NEAR;
    }
  }

  /**
   * Makes a picture.
   *
   * @param percent whether the worth is a share, which ends at 1
   * @param points at least one, costs above 0
   */
  ScatterPicture(
      String title, String costName, String worthName, boolean percent, List<Point> points) {
    this.title = title;
    this.costName = costName;
    this.worthName = worthName;
    this.percent = percent;
    this.points = List.copyOf(points);
    double most = points.stream().mapToDouble(Point::worth).max().orElse(1);
    this.top = percent ? 1 : STEPS * step(most / STEPS);
    this.low = points.stream().mapToDouble(Point::cost).min().orElse(1) / 1.15;
    this.high = points.stream().mapToDouble(Point::cost).max().orElse(1) * 1.15;
  }

  /** Returns the least round number that is not less. */
  private static double step(double least) {
    double step = 0.01;
    while (true) {
      for (double digit : new double[] {1, 2, 3, 4, 5}) {
        if (digit * step >= least) {
          return digit * step;
        }
      }
      step *= 10;
    }
  }

  private double x(double cost) {
    return LEFT + (RIGHT - LEFT) * Math.log(cost / low) / Math.log(high / low);
  }

  private double y(double worth) {
    return BOTTOM - (BOTTOM - TOP) * worth / top;
  }

  String text() {
    SvgText svg = new SvgText(WIDTH, HEIGHT, title);
    axes(svg);
    StringBuilder path = new StringBuilder();
    Set<Point> front = new LinkedHashSet<>(front());
    double last = -1;
    for (Point point : front) {
      path.append(
          last < 0
              ? String.format(Locale.ROOT, "M%.1f %.1f", x(point.cost()), y(point.worth()))
              : String.format(Locale.ROOT, "H%.1f V%.1f", x(point.cost()), y(point.worth())));
      last = point.worth();
    }
    svg.add("<path class=\"front\" d=\"%s H%d\"/>", path, RIGHT);
    List<Place> places = new ArrayList<>();
    for (Point point : points) {
      double x = x(point.cost());
      double y = y(point.worth());
      svg.add(
          "<circle class=\"%s\" cx=\"%.1f\" cy=\"%.1f\" r=\"5\"/>",
          front.contains(point) ? "best" : "other", x, y);
      places.stream()
          .filter(place -> place.isNear(x, y))
          .findFirst()
          .ifPresentOrElse(
              place -> place.labels.add(point.label()),
              () -> places.add(new Place(x, y, point.label())));
    }
    for (Place place : places) {
      boolean high = place.y < TOP + 20;
      svg.label(place.x + (high ? 0 : 7), place.y + (high ? -10 : 15), "middle", place.label());
    }
    return svg.toString();
  }

  private void axes(SvgText svg) {
    for (int step = 0; step <= STEPS; step++) {
      double worth = top * step / STEPS;
      svg.add(
          "<line class=\"grid\" x1=\"%d\" y1=\"%.1f\" x2=\"%d\" y2=\"%.1f\"/>",
          LEFT, y(worth), RIGHT, y(worth));
      svg.label(
          LEFT - 8,
          y(worth) + 4,
          "end",
          percent
              ? String.format(Locale.ROOT, "%.0f%%", 100 * worth)
              : String.format(Locale.ROOT, "%.2f", worth));
    }
    for (double decade = 1; decade < high; decade *= 10) {
      for (int digit : new int[] {1, 2, 3, 5, 7}) {
        double cost = digit * decade;
        if (cost >= low && cost <= high) {
          svg.add(
              "<line class=\"grid\" x1=\"%.1f\" y1=\"%d\" x2=\"%.1f\" y2=\"%d\"/>",
              x(cost), TOP, x(cost), BOTTOM);
          svg.label(x(cost), BOTTOM + 18, "middle", String.format(Locale.ROOT, "%.0f", cost));
        }
      }
    }
    svg.label((LEFT + RIGHT) / 2.0, BOTTOM + 40, "middle", costName);
    svg.label(LEFT - 8, TOP - 28, "start", worthName);
  }

  /** Returns the points that none of lower or equal cost equals, by rising cost. */
  private List<Point> front() {
    List<Point> front = new ArrayList<>();
    double best = -1;
    for (Point point :
        points.stream()
            .sorted(Comparator.comparingDouble(Point::cost).thenComparing(p -> -p.worth()))
            .toList()) {
      if (point.worth() > best) {
        front.add(point);
        best = point.worth();
      }
    }
    return front;
  }
}

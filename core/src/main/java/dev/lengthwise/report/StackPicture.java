package dev.lengthwise.report;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Sums and what they are made of: a bar for each row, divided by parts. */
final class StackPicture {

  private static final int WIDTH = 720;
  private static final int LEFT = 130;
  private static final int RIGHT = 645;
  private static final int LEGEND = 30;
  private static final int PITCH = 24;
  private static final int BAR = 17;

  private final String title;
  private final List<String> parts;
  private final double scale;
  private final int digits;
  private final String unit;
  private final List<Bar> bars = new ArrayList<>();

  private record Bar(String name, List<Double> values) {

    double sum() {
      return values.stream().mapToDouble(Double::doubleValue).sum();
    }
  }

  /**
   * Makes a picture without bars.
   *
   * @param scale what printed sums are multiplied by
   * @param digits after the point of printed sums
   * @param unit behind printed sums
   */
  StackPicture(String title, List<String> parts, double scale, int digits, String unit) {
    this.title = title;
    this.parts = List.copyOf(parts);
    this.scale = scale;
    this.digits = digits;
    this.unit = unit;
  }

  /** Adds a bar with a value for each part. */
  StackPicture bar(String name, List<Double> values) {
    bars.add(new Bar(name, List.copyOf(values)));
    return this;
  }

  String text() {
    int height = LEGEND + 12 + bars.size() * PITCH;
    SvgText svg = new SvgText(WIDTH, height, title);
    double legend = LEFT;
    for (int part = 0; part < parts.size(); part++) {
      svg.add(
          "<rect x=\"%.1f\" y=\"6\" width=\"13\" height=\"13\" fill=\"%s\"/>",
          legend, SvgText.colour(part));
      svg.label(legend + 18, 17, "start", parts.get(part));
      legend += 34 + 7.2 * parts.get(part).length();
    }
    double most = bars.stream().mapToDouble(Bar::sum).max().orElse(0);
    for (int i = 0; i < bars.size(); i++) {
      Bar bar = bars.get(i);
      double y = LEGEND + 6.0 + i * PITCH;
      svg.label(LEFT - 8, y + 13, "end", bar.name());
      double x = LEFT;
      for (int part = 0; part < parts.size(); part++) {
        double width = most > 0 ? (RIGHT - LEFT) * bar.values().get(part) / most : 0;
        if (width > 0) {
          svg.add(
              "<rect class=\"part\" x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%d\""
                  + " fill=\"%s\"/>",
              x, y, width, BAR, SvgText.colour(part));
        }
        x += width;
      }
      svg.label(
          x + 6,
          y + 13,
          "start",
          String.format(Locale.ROOT, "%." + digits + "f%s", scale * bar.sum(), unit));
    }
    return svg.toString();
  }
}

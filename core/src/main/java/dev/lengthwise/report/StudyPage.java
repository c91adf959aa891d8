package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.fetch.Throughput;
import dev.lengthwise.study.sweep.ParetoFront;
import dev.lengthwise.study.sweep.StudyRow;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;

/**
 * The page {@code report.html} of a study: for each stream what lanes are worth by what they cost,
 * where the cycles go, what is lost to which cause, and the table; and what a search found.
 *
 * <p>The page is whole in itself, has no script, and loads nothing. The same study gives the same
 * bytes. Immutable.
 *
 * @param title what is studied, in words
 * @param rows the variants on the streams
 * @param details where there are any, the cycles and losses of a row
 * @param advised lanes that a search found, and what they are compared with; may be empty
 */
public record StudyPage(
    String title, List<StudyRow> rows, List<Detail> details, List<Advised> advised)
    implements Report {

  /** The most rows of a page; more are no help to a reader. */
  public static final int MOST_ROWS = 1 << 14;

  /** The style of the page. */
  private static final String STYLE =
      """
      body { font: 16px/1.5 sans-serif; max-width: 60rem; margin: 2rem auto; padding: 0 1rem; color: #222 }
      h2 { margin-top: 2.5rem; border-bottom: 1px solid #bbb }
      figure { margin: 1.5rem 0 }
      figcaption { font-weight: bold }
      svg { width: 100%; height: auto; font: 13px sans-serif; fill: #222 }
      text { paint-order: stroke; stroke: #fff; stroke-width: 3px }
      .grid { stroke: #ddd } .part { stroke: #fff }
      .front { stroke: #0072B2; fill: none; stroke-width: 1.5 }
      .best { fill: #0072B2; stroke: #fff } .other { fill: #fff; stroke: #666; stroke-width: 1.5 }
      table { border-collapse: collapse } th, td { padding: 0.15rem 0.7rem; text-align: right; border-bottom: 1px solid #ddd }
      th:nth-child(-n+2), td:nth-child(-n+2) { text-align: left }
      """;

  /**
   * What becomes of a variant's cycles and instructions on a stream.
   *
   * @param design the variant's name
   * @param stream the stream's name
   * @param accuracy how much the lane handles
   * @param throughput where the cycles go; empty if the stream has no order
   */
  public record Detail(
      String design, String stream, Accuracy accuracy, Optional<Throughput> throughput) {
    /**
     * Checks for null.
     *
     * @param design see Detail
     * @param stream see Detail
     * @param accuracy see Detail
     * @param throughput see Detail
     */
    public Detail {
      Objects.requireNonNull(design, "design");
      Objects.requireNonNull(stream, "stream");
      Objects.requireNonNull(accuracy, "accuracy");
      Objects.requireNonNull(throughput, "throughput");
    }
  }

  /**
   * A lane that a search found or one that it is compared with, on a stream.
   *
   * @param stream the stream's name, and whether it was searched on
   * @param lane the lane's name
   * @param luts its LUTs
   * @param levels its levels
   * @param exactShare the share it is exact for, in [0, 1]
   */
  public record Advised(String stream, String lane, int luts, int levels, double exactShare) {
    /**
     * Checks for null.
     *
     * @param stream see Advised
     * @param lane see Advised
     * @param luts see Advised
     * @param levels see Advised
     * @param exactShare see Advised
     */
    public Advised {
      Objects.requireNonNull(stream, "stream");
      Objects.requireNonNull(lane, "lane");
    }
  }

  /**
   * Copies the lists.
   *
   * @param title see StudyPage
   * @param rows see StudyPage
   * @param details see StudyPage
   * @param advised see StudyPage
   * @throws IllegalArgumentException if there are more than {@value #MOST_ROWS} rows or details
   */
  public StudyPage {
    Objects.requireNonNull(title, "title");
    rows = List.copyOf(rows);
    details = List.copyOf(details);
    int most = Math.max(rows.size(), Math.max(details.size(), advised.size()));
    if (most > MOST_ROWS) {
      throw new IllegalArgumentException(
          "study page: at most " + MOST_ROWS + " rows are shown, found " + most);
    }
    advised = List.copyOf(advised);
  }

  /** Prints HTML with line feeds. */
  @Override
  public OutputFile file() {
    return new OutputFile("report.html", html());
  }

  private String html() {
    StringBuilder page = new StringBuilder();
    page.append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n")
        .append("<meta name=\"viewport\" content=\"width=device-width\">\n<title>")
        .append(SvgText.escaped(title))
        .append("</title>\n<style>\n")
        .append(STYLE)
        .append("</style>\n</head>\n<body>\n<h1>")
        .append(SvgText.escaped(title))
        .append("</h1>\n<p>LUTs and levels are estimates, instructions per cycle (IPC) are a")
        .append(
            " model's: synthesis, placement, routing and measurement decide. Timing closure and")
        .append(" functional safety are for the device vendor's sign-off tools, local codes and")
        .append(" licensed practice to establish.</p>\n");
    if (!advised.isEmpty()) {
      page.append("<h2>The lane advised</h2>\n").append(advice());
    }
    Map<String, List<StudyRow>> streams = new LinkedHashMap<>();
    rows.forEach(row -> streams.computeIfAbsent(row.stream(), name -> new ArrayList<>()).add(row));
    Map<String, List<Detail>> known = new LinkedHashMap<>();
    details.forEach(
        detail -> known.computeIfAbsent(detail.stream(), name -> new ArrayList<>()).add(detail));
    streams.forEach(
        (stream, own) -> stream(stream, own, known.getOrDefault(stream, List.of()), page));
    return page.append("</body>\n</html>\n").toString();
  }

  private static void stream(
      String stream, List<StudyRow> own, List<Detail> known, StringBuilder page) {
    page.append("<h2>").append(SvgText.escaped(stream)).append("</h2>\n");
    page.append(table(own));
    List<ScatterPicture.Point> shares = new ArrayList<>();
    List<ScatterPicture.Point> speeds = new ArrayList<>();
    for (int i = 0; i < own.size(); i++) {
      StudyRow row = own.get(i);
      String label = Integer.toString(i + 1);
      int luts = Math.max(1, row.lutsPerLane());
      shares.add(new ScatterPicture.Point(luts, row.exactShare(), label));
      if (row.ipc().isPresent()) {
        speeds.add(new ScatterPicture.Point(luts, row.ipc().getAsDouble(), label));
      }
    }
    String cost = "LUTs of a lane, estimated; numbers as in the table";
    page.append(
        figure(
            "Instructions whose length the lane says; on the line, none of fewer LUTs does better",
            new ScatterPicture(stream + ", exact share", cost, "exact share", true, shares)
                .text()));
    if (!speeds.isEmpty()) {
      page.append(
          figure(
              "Instructions per cycle",
              new ScatterPicture(stream + ", IPC", cost, "IPC", false, speeds).text()));
    }
    details(stream, known, page);
  }

  private static void details(String stream, List<Detail> known, StringBuilder page) {
    List<String> uses =
        Arrays.stream(Throughput.SlotUse.values()).map(use -> words(use.label())).toList();
    List<String> causes =
        Arrays.stream(Accuracy.LossCause.values()).map(c -> words(c.name())).toList();
    StackPicture cycles = new StackPicture(stream + ", cycles", uses, 1, 3, "");
    StackPicture losses = new StackPicture(stream + ", losses", causes, 100, 2, "%");
    boolean ran = false;
    boolean judged = false;
    for (Detail detail : known) {
      double executed = Math.max(1, detail.accuracy().executed());
      judged = true;
      losses.bar(
          detail.design(),
          Arrays.stream(Accuracy.LossCause.values())
              .map(cause -> detail.accuracy().lost(cause) / executed)
              .toList());
      if (detail.throughput().isPresent()) {
        Throughput found = detail.throughput().get();
        ran = true;
        cycles.bar(
            detail.design(),
            Arrays.stream(Throughput.SlotUse.values())
                .map(use -> found.cycles(use) / Math.max(1, found.instructions()))
                .toList());
      }
    }
    if (ran) {
      page.append(figure("Cycles for an instruction, and where they go", cycles.text()));
    }
    if (judged) {
      page.append(figure("Instructions that the slow path decides, by cause", losses.text()));
    }
  }

  private static String words(String label) {
    return label.toLowerCase(Locale.ROOT).replace('_', ' ');
  }

  private static String figure(String caption, String svg) {
    return "<figure>\n<figcaption>"
        + SvgText.escaped(caption)
        + "</figcaption>\n"
        + svg
        + "</figure>\n";
  }

  private static String table(List<StudyRow> rows) {
    Set<StudyRow> front = new HashSet<>(ParetoFront.among(rows));
    List<List<Object>> cells = new ArrayList<>();
    for (StudyRow row : rows) {
      cells.add(
          List.of(
              cells.size() + 1,
              row.design(),
              row.style() + ", LUT" + row.lutInputs(),
              row.lutsPerLane(),
              row.levels(),
              share(row.handledShare()),
              share(row.exactShare()),
              row.ipc().isPresent()
                  ? String.format(Locale.ROOT, "%.3f", row.ipc().getAsDouble())
                  : "",
              front.contains(row) ? "yes" : ""));
    }
    return table(
        List.of("", "lane", "style", "LUTs", "levels", "handled", "exact", "IPC", "unbeaten"),
        cells);
  }

  private String advice() {
    return table(
        List.of("stream", "lane", "LUTs", "levels", "exact"),
        advised.stream()
            .map(
                a ->
                    List.<Object>of(
                        a.stream(), a.lane(), a.luts(), a.levels(), share(a.exactShare())))
            .toList());
  }

  private static String table(List<String> heads, List<List<Object>> rows) {
    StringBuilder text = new StringBuilder("<table>\n<tr>");
    heads.forEach(h -> text.append("<th>").append(SvgText.escaped(h)).append("</th>"));
    text.append("</tr>\n");
    for (List<Object> row : rows) {
      text.append("<tr>");
      row.forEach(
          c -> text.append("<td>").append(SvgText.escaped(String.valueOf(c))).append("</td>"));
      text.append("</tr>\n");
    }
    return text.append("</table>\n").toString();
  }

  private static String share(double value) {
    return String.format(Locale.ROOT, "%.2f%%", 100 * value);
  }
}

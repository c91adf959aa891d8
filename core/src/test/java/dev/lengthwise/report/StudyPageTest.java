package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTimeoutPreemptively;

import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.fetch.Throughput;
import dev.lengthwise.study.sweep.StudyRow;
import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class StudyPageTest {

  private static final String HOSTILE = "</text><script>&\"'";

  @TempDir private Path folder;

  private static StudyRow row(String design, int luts, double share, double ipc) {
    return new StudyRow(
        design, "banked", 6, luts, luts, 3, share, share, OptionalDouble.of(ipc), "tide", "");
  }

  private static StudyPage page() {
    Accuracy accuracy =
        new Accuracy(
            100, 60, 0, Map.of(Accuracy.LossCause.LEFT_OUT, 30L, Accuracy.LossCause.PREFIX, 10L));
    Throughput throughput =
        new Throughput(
            100,
            200,
            1,
            Map.of(
                Throughput.SlotUse.INSTRUCTION,
                100L,
                Throughput.SlotUse.SLOW_PATH,
                75L,
                Throughput.SlotUse.MISS,
                25L),
            60,
            2);
    return new StudyPage(
        "lanes of " + HOSTILE,
        List.of(row("lean", 20, 0.6, 0.5), row("full", 80, 1, 1.2), row("worse", 90, 0.9, 0.7)),
        List.of(new StudyPage.Detail("lean", "tide", accuracy, Optional.of(throughput))),
        List.of(new StudyPage.Advised("tide, searched on", "advised", 60, 4, 0.9876)));
  }

  @Test
  void html_isWholeInItself_andTakesTextAsText() {
    String html = page().file().text();
    assertThat(html).doesNotContain("<script");
    assertThat(html).doesNotContain("src=");
    assertThat(html).doesNotContain("href=");
    assertThat(html).doesNotContain("\r");
    assertThat(html.replace("http://www.w3.org/2000/svg", "")).doesNotContain("http");
    assertThat(html).contains("lanes of &lt;/text&gt;&lt;script&gt;&amp;&quot;&apos;");
    assertThat(html).contains("estimates");
    assertThat(html).contains("sign-off tools, local codes and licensed practice");
    assertThat(html)
        .contains(
            "<tr><td>tide, searched on</td><td>advised</td><td>60</td><td>4</td>"
                + "<td>98.76%</td></tr>");
  }

  @Test
  void html_otherLocale_givesTheSameBytes() {
    String before = page().file().text();
    Locale locale = Locale.getDefault();
    try {
      Locale.setDefault(Locale.GERMANY);
      assertThat(page().file().text()).isEqualTo(before);
    } finally {
      Locale.setDefault(locale);
    }
  }

  /** The line of the picture goes along the lanes that none of fewer LUTs equals. */
  @Test
  void html_scatter_marksWhatNoneOfFewerLutsEquals() {
    List<String> kinds = found("<circle class=\"(best|other)\"", page().file().text());
    assertThat(kinds).containsExactly("best", "best", "other", "best", "best", "other").inOrder();
    List<String> heights =
        found("<circle class=\"\\w+\" cx=\"[0-9.]+\" cy=\"([0-9.]+)\"", page().file().text());
    // From 100% at 44 to 0% at 305, for exact shares of 60%, 100% and 90%.
    assertThat(heights.subList(0, 3)).containsExactly("148.4", "44.0", "70.1").inOrder();
  }

  /** Parts are as long as their values: half of the cycles, 3/8 and 1/8; 10 and 30 of 40 lost. */
  @Test
  void html_stacks_haveTheProportionsOfTheirValues() {
    String html = page().file().text();
    List<String> widths =
        found("<rect class=\"part\" x=\"[0-9.]+\" y=\"[0-9.]+\" width=\"([0-9.]+)\"", html);
    assertThat(widths).containsExactly("257.5", "193.1", "64.4", "128.8", "386.3").inOrder();
    assertThat(html).contains(">2.000</text>");
    assertThat(html).contains(">40.00%</text>");
  }

  @Test
  void write_replacesTheFile_andLeavesNothingElse() throws IOException {
    Path file = folder.resolve("new").resolve("report.html");
    assertThat(page().write(file.getParent())).isEqualTo(file);
    assertThat(page().write(file.getParent())).isEqualTo(file);
    assertThat(Files.readString(file)).isEqualTo(page().file().text());
    try (var files = Files.list(file.getParent())) {
      assertThat(files.toList()).containsExactly(file);
    }
  }

  /** Values at the bounds of a row, many rows, equal rows and no range at all end in time. */
  @Slow
  @Test
  void html_oddRows_ends() {
    assertTimeoutPreemptively(
        Duration.ofSeconds(60),
        () -> {
          List<StudyRow> rows = new ArrayList<>();
          for (int i = 0; i < StudyPage.MOST_ROWS; i++) {
            rows.add(row("lane" + i, i % 3 == 0 ? 7 : i, 1 - 1e-6 * i, i % 3 == 0 ? 0 : 32));
          }
          String html = new StudyPage("many", rows, List.of(), List.of()).file().text();
          assertThat(html).contains(" more</text>");
          assertThat(html).doesNotContain("NaN");
          assertThat(html).doesNotContain("Infinity");
          rows = Collections.nCopies(StudyPage.MOST_ROWS, row("same", Integer.MAX_VALUE, 0, 0));
          new StudyPage("equal", rows, List.of(), List.of()).file().text();
        });
    List<StudyRow> more = Collections.nCopies(StudyPage.MOST_ROWS + 1, row("same", 1, 0, 0));
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> new StudyPage("more", more, List.of(), List.of())))
        .hasMessageThat()
        .isEqualTo("study page: at most 16384 rows are shown, found 16385");
  }

  @Test
  void point_thatHasNoPlace_isRefused() {
    for (double wrong : new double[] {Double.NaN, 1e308, Double.POSITIVE_INFINITY, -1}) {
      assertThat(
              assertThrows(
                  IllegalArgumentException.class,
                  () -> new ScatterPicture.Point(1, wrong, "wrong")))
          .hasMessageThat()
          .isEqualTo(
              "scatter picture: a cost above 0 and a worth of at least 0, both at most"
                  + " 1000000000000, are expected, found 1.0 and "
                  + wrong);
    }
    ScatterPicture.Point far = new ScatterPicture.Point(1e12, 1e12, "far");
    assertThat(new ScatterPicture("t", "c", "w", false, List.of(far, far)).text())
        .contains("far, far");
  }

  @Test
  void row_thatIsNone_isRefused() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> row("lean", 1, Double.NaN, 1)))
        .hasMessageThat()
        .isEqualTo("study row: handled_share must be in [0, 1], found NaN");
    assertThat(assertThrows(IllegalArgumentException.class, () -> row("lean", -1, 1, 1)))
        .hasMessageThat()
        .isEqualTo("study row: luts_per_lane must be in [0, 2147483647], found -1.0");
    assertThat(assertThrows(IllegalArgumentException.class, () -> row("lean", 1, 1, 1e308)))
        .hasMessageThat()
        .isEqualTo("study row: ipc must be in [0, 32], found 1.0E308");
  }

  @Test
  void html_noDetails_noStacks() {
    StudyPage page = new StudyPage("lanes", List.of(row("one", 1, 0, 0)), List.of(), List.of());
    assertThat(page.file().text()).doesNotContain("by cause");
    assertThat(page.file().text()).doesNotContain("advised");
    assertThat(page.file().text()).doesNotContain("NaN");
  }

  private static List<String> found(String pattern, String text) {
    List<String> groups = new ArrayList<>();
    Matcher matcher = Pattern.compile(pattern).matcher(text);
    while (matcher.find()) {
      groups.add(matcher.group(1));
    }
    return groups;
  }
}

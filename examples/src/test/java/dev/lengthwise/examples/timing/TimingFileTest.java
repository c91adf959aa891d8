package dev.lengthwise.examples.timing;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class TimingFileTest {

  @TempDir Path folder;

  private static TimingRow row(String style, String script, int luts, double median) {
    return new TimingRow(
        new TimingRow.Key("lock", style, script),
        style.startsWith(TimingRun.NETWORK)
            ? Optional.of(new TimingRow.Estimate(3, luts, 90.5, 120.1))
            : Optional.empty(),
        new TimingRow.Measured(luts, 0, median - 1, median, median + 2, 5),
        "text=ab seeds=5");
  }

  private static TimingFile file() {
    return new TimingFile(
        List.of(
            row(TimingRun.CASE_TEXT, "plain", 40, 100),
            row(TimingRun.CASE_TEXT, "no_carry", 31, 120),
            row("network_1", "plain", 30, 90),
            row("network_2", "plain", 35, 110)));
  }

  @Test
  void rows_areReadAsTheyWereWritten() throws IOException {
    file().write(folder);
    assertThat(TimingFile.in(folder)).isEqualTo(file());
    assertThat(Files.readAllLines(folder.resolve("timing.csv")).subList(0, 2))
        .containsExactly(
            "design,style,lut_inputs,levels,estimated_luts,measured_luts,registers,"
                + "estimated_mhz_low,estimated_mhz_high,measured_mhz_min,measured_mhz_median,"
                + "measured_mhz_max,seeds,script,made_of",
            "lock,case_text,4,,,40,0,,,99.0,100.0,102.0,5,plain,text=ab seeds=5")
        .inOrder();
    assertThat(TimingFile.in(folder.resolve("none")).rows()).isEmpty();
  }

  @Test
  void verdict_namesTheFastestNetworkThatIsNoWorse() {
    assertThat(TimingVerdict.of(file(), "lock"))
        .containsExactly(
            "lock, case text by plain, 40 LUTs at 100.0 MHz: no better than network_2, 35 LUTs at"
                + " 110.0 MHz",
            "lock, case text by no_carry, 31 LUTs at 120.0 MHz: better than each network in LUTs"
                + " or clock")
        .inOrder();
    assertThat(TimingVerdict.of(file(), "other")).isEmpty();
  }

  @Test
  void rowsOfAnotherMake_areRefusedWithTheirLine() {
    TimingFile file = file();
    List<TimingRow> networks = file.of("lock", style -> style.startsWith(TimingRun.NETWORK));
    file.requireMade(folder, networks, "text=ab seeds=5");
    assertThat(
            assertThrows(
                    IllegalArgumentException.class,
                    () -> file.requireMade(folder, networks, "text=ab seeds=9"))
                .getMessage())
        .isEqualTo(
            folder
                + "/timing.csv, line 4: a row of this run must be made with text=ab seeds=9, found"
                + " text=ab seeds=5 (lock network_1 by plain)");
  }

  @Test
  void otherFiles_areRefusedWithTheirLine() throws IOException {
    file().write(folder);
    Path csv = folder.resolve("timing.csv");
    List<String> lines = Files.readAllLines(csv);
    assertRefused(List.of("a,b"), "1: " + lines.get(0) + " is expected, found a,b");
    assertRefused(List.of(lines.get(0), "x"), "2: a row is expected, found x");
    String wrong = lines.get(1).replace("99.0", "fast");
    assertRefused(List.of(lines.get(0), wrong), "2: a row is expected, found " + wrong);
    assertRefused(
        List.of(lines.get(0), lines.get(1), lines.get(1)),
        "3: a row that is not given before is expected, found lock case_text by plain");
  }

  private void assertRefused(List<String> lines, String message) throws IOException {
    Path csv = Files.write(folder.resolve("timing.csv"), lines);
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> TimingFile.in(folder)).getMessage())
        .isEqualTo(csv + ", line " + message);
  }
}

package dev.lengthwise.examples.timing;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.make.ContentDigest;
import dev.lengthwise.testbench.flow.OpenFlow;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Slow;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Our networks of eight lanes beside the texts as written by hand, as {@code timing --only
 * riscv,mcs51,jvm,sluice,reference_without_displacement,reference,tidegate,ia32_defined} measured
 * them, five seeds each. Its {@code timing.csv} is kept beside this test: half an hour of a
 * processor.
 */
class TimedFrontsTest {

  private static final String SMALL = "sluice";

  @TempDir Path folder;

  /** Whatever script makes the text into LUTs, a network has no more of them and no lower clock. */
  @Test
  void everyLane_hasANetworkNoLargerAndNoSlowerThanTheText_byEachScript() throws Exception {
    TimingFile file = MeasuredFronts.file();
    List<String> scripts = Arrays.stream(OpenFlow.Script.values()).map(s -> s.label()).toList();
    Map<String, Supplier<TimedLane>> lanes = TimedLane.all();
    assertThat(lanes).hasSize(8);
    for (String lane : lanes.keySet()) {
      List<TimingRow> texts = file.of(lane, TimingRun.CASE_TEXT::equals);
      List<TimingRow> networks = file.of(lane, style -> style.startsWith(TimingRun.NETWORK));
      assertThat(texts.stream().map(row -> row.key().script()).toList())
          .containsExactlyElementsIn(scripts);
      for (TimingRow text : texts) {
        assertWithMessage("%s by %s", lane, text.key().script())
            .that(
                networks.stream()
                    .map(TimingRow::measured)
                    .anyMatch(
                        network ->
                            network.luts() <= text.measured().luts()
                                && network.median() >= text.measured().median()))
            .isTrue();
      }
      assertThat(TimingVerdict.of(file, lane).stream().filter(v -> v.contains(": no better than ")))
          .hasSize(scripts.size());
    }
  }

  /** Rows are of the texts as they are now, and of five seeds; networks came out as estimated. */
  @Slow
  @Test
  void rows_areOfTheLanesAsTheyAre() throws Exception {
    TimingFile file = MeasuredFronts.file();
    assertThat(file.rows().stream().map(row -> row.key().design()).collect(Collectors.toSet()))
        .isEqualTo(TimedLane.all().keySet());
    for (Map.Entry<String, Supplier<TimedLane>> lane : TimedLane.all().entrySet()) {
      String digest = ContentDigest.of(lane.getValue().get().text());
      for (TimingRow row : file.of(lane.getKey(), style -> true)) {
        boolean isText = row.estimate().isEmpty();
        assertWithMessage("%s", row.key())
            .that(row.madeOf())
            .startsWith(isText ? "text=" + digest : "lane=" + digest + " fewer_levels=1");
        assertThat(row.measured().seeds()).isEqualTo(5);
        row.estimate().ifPresent(e -> assertThat(row.measured().luts()).isEqualTo(e.luts()));
      }
    }
  }

  /** Ten inputs take two levels of LUTs of four inputs at least, which the default finds. */
  @Slow
  @Test
  void smallestLane_byDefault_takesTheFewestLevelsThereAre() {
    Design design =
        Realizer.on(DeviceProfile.fourInput())
            .realize(TimedLane.all().get(SMALL).get().lane(), Style.LUT_NETWORK);
    assertThat(design.total().levels()).isEqualTo(2);
    assertThat(design.total().luts()).isAtMost(5);
    assertThat(design.total().proved()).isTrue();
  }

  /**
   * The smallest lane measured again (Debian packages yosys and nextpnr-ice40); with the releases
   * of the file, it is the same to the last digit.
   */
  @Slow
  @CallsTools
  @Test
  void smallestLane_measuredAgain_isNoLargerAndNoSlower() throws Exception {
    TimingRun run = new TimingRun(folder, 5, 1);
    run.lane(SMALL, TimedLane.all().get(SMALL).get());
    List<String> verdict = TimingVerdict.of(run.file(), SMALL);
    assertThat(verdict).hasSize(OpenFlow.Script.values().length);
    verdict.forEach(line -> assertThat(line).contains(": no better than "));
    TimingFile kept = MeasuredFronts.file();
    List<TimingRow> rows = kept.of(SMALL, style -> true);
    if (rows.get(0).madeOf().endsWith(new OpenFlow().versions())) {
      assertThat(TimingFile.in(folder).rows()).isEqualTo(rows);
    }
  }
}

package dev.lengthwise.study.advice;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import dev.lengthwise.study.workload.LinearSweep;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import org.junit.jupiter.api.Test;

class LeftOutPriceTest {

  private static final OperandSpecifier PLACE =
      OperandSpecifier.named("place")
          .when("0xxx_xx0x", 0)
          .when("0xxx_xx1x", 2)
          .when("1xxx_xxxx", 1)
          .build();

  private static final InstructionSet SET =
      InstructionSet.of(
          LengthTable.named("sluice")
              .map(
                  "base",
                  map ->
                      map.rows(0x00, 0x3f)
                          .bytes(1)
                          .rows(0x40, 0x5f)
                          .bytes(2)
                          .specifier(PLACE)
                          .rows(0x60, 0x6f)
                          .bytes(3)
                          .others()
                          .undefined())
              .build(),
          PrefixRules.NONE,
          8);

  @Test
  void of_eachEntry_isWhatALaneWithItGainsAndCosts() {
    byte[] code = {0x00, 0x40, (byte) 0x80, 0x01, 0x60, 1, 2, 0x61, 1, 2, 0x3f, 0x00, 0x62, 1, 2};
    CodeImage image = CodeImage.of(List.of(CodeImage.Section.of("code", 0, code)));
    GoldenModel truth = GoldenModel.of(SET);
    AccuracyProfile profile =
        AccuracyProfile.of(
            new CodeStream("few", image, LinearSweep.of(truth, image, 0).counts()), truth, 0);
    assertThat(profile.executed()).isEqualTo(7);
    Predecoder lane =
        Predecoder.builder(SET).leaveOut("base", 0x40, 0x5f).leaveOut("base", 0x60, 0x6f).build();
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    List<LeftOutPrice> prices = LeftOutPrice.of(profile, lane, realizer, Style.BANKED);
    assertThat(prices.stream().map(LeftOutPrice::rows).toList()).isEqualTo(lane.leftOut());
    assertThat(prices.stream().map(LeftOutPrice::regained)).containsExactly(1L, 3L).inOrder();
    assertThat(prices.get(1).share()).isWithin(1e-12).of(3.0 / 7);
    Predecoder withSpecifier =
        Predecoder.builder(SET).lookahead(1).leaveOut("base", 0x60, 0x6f).build();
    assertThat(prices.get(0).luts())
        .isEqualTo(
            realizer.realize(withSpecifier, Style.BANKED).unprovedTotal().luts()
                - realizer.realize(lane, Style.BANKED).unprovedTotal().luts());
    assertThat(prices.get(0).luts()).isGreaterThan(0);
    assertThat(prices.get(1).toString())
        .isEqualTo("base 0x60-0x6f: 42.857% regained for " + prices.get(1).luts() + " LUTs");
  }
}

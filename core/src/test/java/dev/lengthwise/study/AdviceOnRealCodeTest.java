package dev.lengthwise.study;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Test;

/**
 * Compares the lane that a search finds on one library with twelve made by hand, on that library
 * and on another one.
 */
class AdviceOnRealCodeTest {

  private static final int LUTS = 90;

  private static final Realizer REALIZER = Realizer.on(DeviceProfile.sixInputDualOutput());

  /** In the package of {@link Libc32}. */
  private static final Path LIBM = Libc32.FILE.resolveSibling("libm.so.6");

  @Test
  void advice_beatsTheBestOfTwelveByHandOnBothStreams() throws IOException {
    StudyStream searched = libm();
    StudyStream other = StudyStream.of(Libc32.stream(), Ia32.instructionSet(), Ia32.MODES_32);
    Map<String, Predecoder> byHand = byHand();
    assertWithMessage("lanes by hand").that(byHand).hasSize(12);
    String bestName = "";
    long bestSearched = -1;
    long bestOther = -1;
    for (Map.Entry<String, Predecoder> hand : byHand.entrySet()) {
      if (REALIZER.realize(hand.getValue(), Style.ROM).unprovedTotal().luts() <= LUTS) {
        long exact = searched.accuracy(hand.getValue()).exact();
        bestName = exact > bestSearched ? hand.getKey() : bestName;
        bestSearched = Math.max(bestSearched, exact);
        bestOther = Math.max(bestOther, other.accuracy(hand.getValue()).exact());
      }
    }
    Advice advice =
        Advisor.on(searched, REALIZER, Style.ROM)
            .withPrefixes(PrefixTreatment.ONE_UNIT_EACH)
            .withDepths(SpecifierDepth.INDEX_BYTE, SpecifierDepth.EVERYTHING)
            .withUndefinedRows(UndefinedRows.ANYTHING)
            .within("ia32_advised", LUTS);
    long foundSearched = advice.accuracy().exact();
    long foundOther = other.accuracy(advice.lane()).exact();
    String table =
        String.format(
            Locale.ROOT,
            "at most %d LUTs   by hand  advised, %d LUTs%n%s %.4f %.4f%n%s %.4f %.4f%nbest on the"
                + " first: %s; %d lanes estimated",
            LUTS,
            advice.cost().luts(),
            searched.name(),
            share(bestSearched, searched),
            share(foundSearched, searched),
            other.name(),
            share(bestOther, other),
            share(foundOther, other),
            bestName,
            advice.estimated());
    System.out.println(table);
    assertWithMessage(table).that(advice.cost().luts()).isAtMost(LUTS);
    assertWithMessage(table).that(foundSearched).isAtLeast(bestSearched);
    assertWithMessage(table).that(foundOther).isAtLeast(bestOther);
  }

  private static double share(long exact, StudyStream stream) {
    return exact / (double) stream.profile().executed();
  }

  private static StudyStream libm() throws IOException {
    Tool.installed(LIBM, "libc6-i386-cross");
    return StudyStream.ofImage("libm", Ia32.instructionSet(), Ia32.MODES_32, CodeImage.read(LIBM));
  }

  /** Depths and maps as a designer would cross them. */
  private static Map<String, Predecoder> byHand() {
    Map<String, Predecoder> lanes = new LinkedHashMap<>();
    for (SpecifierDepth depth : SpecifierDepth.values()) {
      for (String maps : List.of("one_byte", "two_byte", "every")) {
        List<Integer> escapes = new ArrayList<>();
        if (!maps.equals("every")) {
          escapes.addAll(List.of(0xc4, 0xc5));
        }
        if (maps.equals("one_byte")) {
          escapes.add(0x0f);
        }
        Predecoder.Builder lane =
            Predecoder.of(Ia32.instructionSet())
                .prefixes(PrefixTreatment.ONE_UNIT_EACH)
                .depth(depth)
                .undefinedRows(UndefinedRows.ANYTHING);
        escapes.forEach(code -> lane.leaveOut("one_byte", code));
        lanes.put(depth + ", " + maps, lane.build());
      }
    }
    return lanes;
  }
}

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
import dev.lengthwise.study.advice.Advice;
import dev.lengthwise.study.advice.Advisor;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;

/**
 * Compares lanes that a search finds on one library with the best of twelve made by hand, on that
 * library and on two others that no search looks at; {@code -Dadvice.luts=40,60,90,140} tries other
 * numbers of LUTs.
 */
@CallsTools
class AdviceOnRealCodeTest {

  private static final Realizer REALIZER = Realizer.on(DeviceProfile.sixInputDualOutput());

  /** Another room takes a minute. */
  private static final String USUAL = Extent.isWhole() ? "60,90" : "60";

  private static final String SEARCHED = "libm.so.6";

  private static final List<String> OTHERS = List.of("libc.so.6", "ld-linux.so.2");

  @Test
  void advice_beatsTheBestOfTwelveByHandOnEachStream() throws IOException {
    List<StudyStream> streams = new ArrayList<>(List.of(library(SEARCHED)));
    for (String other : OTHERS) {
      streams.add(library(other));
    }
    List<Predecoder> byHand = byHand();
    assertWithMessage("lanes by hand").that(byHand).hasSize(12);
    List<Integer> costs =
        byHand.stream().map(h -> REALIZER.realize(h, Style.ROM).unprovedTotal().luts()).toList();
    for (String room : System.getProperty("advice.luts", USUAL).split(",", -1)) {
      int luts = Integer.parseInt(room);
      Advice advice =
          Advisor.on(streams.get(0), REALIZER, Style.ROM)
              .withPrefixes(PrefixTreatment.ONE_UNIT_EACH)
              .withDepths(SpecifierDepth.INDEX_BYTE, SpecifierDepth.EVERYTHING)
              .withUndefinedRows(UndefinedRows.ANYTHING)
              .within("ia32_advised", luts);
      String text =
          String.format(
              Locale.ROOT,
              "at most %d LUTs: %s, expected %.4f",
              luts,
              advice.cost(),
              advice.expectedShare());
      System.out.println(text);
      assertWithMessage(text).that(advice.cost().luts()).isAtMost(luts);
      for (StudyStream stream : streams) {
        double found = stream.accuracy(advice.lane()).exactShare();
        double best = 0; // of each stream, though a designer has one lane for all
        for (int i = 0; i < byHand.size(); i++) {
          if (costs.get(i) <= luts) {
            best = Math.max(best, stream.accuracy(byHand.get(i)).exactShare());
          }
        }
        String row =
            String.format(
                Locale.ROOT, "%s: by hand %.4f, advised %.4f", stream.name(), best, found);
        System.out.println(row);
        assertWithMessage(row).that(found).isAtLeast(best);
      }
    }
  }

  private static StudyStream library(String name) throws IOException {
    Path file = Libc32.FILE.resolveSibling(name);
    Tool.installed(file, "libc6-i386-cross");
    return StudyStream.ofImage(name, Ia32.instructionSet(), Ia32.MODES_32, CodeImage.read(file));
  }

  /** Depths and maps as a designer would cross them. */
  private static List<Predecoder> byHand() {
    List<Predecoder> lanes = new ArrayList<>();
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
            Predecoder.builder(Ia32.instructionSet())
                .prefixes(PrefixTreatment.ONE_UNIT_EACH)
                .depth(depth)
                .undefinedRows(UndefinedRows.ANYTHING);
        escapes.forEach(code -> lane.leaveOut("one_byte", code));
        lanes.add(lane.build());
      }
    }
    return lanes;
  }
}

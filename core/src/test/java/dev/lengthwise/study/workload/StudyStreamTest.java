package dev.lengthwise.study.workload;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.study.SmallSet;
import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.fetch.FetchModel;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.item.LaneItems;
import dev.lengthwise.table.CodeUnit;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Checks the shares and the throughput of lanes on streams. */
class StudyStreamTest {

  @TempDir Path folder;

  /**
   * At 0x400: one byte; prefix and one byte; prefix that widens and five bytes; a specifier with an
   * index byte, 5 bytes; an escape, 2 bytes; undefined.
   */
  private static final byte[] CODE = {
    0x01,
    (byte) 0xf1,
    0x02,
    (byte) 0xf0,
    0x50,
    0,
    0,
    0,
    0,
    0x40,
    0x40,
    (byte) 0x80,
    0,
    0,
    (byte) 0xe0,
    0x05,
    (byte) 0xff
  };

  private static final CodeImage IMAGE =
      CodeImage.of(List.of(CodeImage.Section.of("code", 0x400, CODE)));

  private static StudyStream counted(long... addressLengthCount) {
    return StudyStream.of(
        new CodeStream("hand", IMAGE, counts(addressLengthCount)), SmallSet.SET, 0);
  }

  private static TraceCounts counts(long... addressLengthCount) {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (int i = 0; i < addressLengthCount.length; i += 3) {
      for (long n = 0; n < addressLengthCount[i + 2]; n++) {
        counter.instruction(addressLengthCount[i], (int) addressLengthCount[i + 1]);
      }
    }
    return counter.counts();
  }

  @Test
  void accuracy_equalsCountsByHand() {
    StudyStream stream =
        counted(
            0x400, 1, 1, 0x401, 2, 10, 0x403, 6, 100, 0x409, 5, 1000, 0x40e, 2, 10_000, 0x410, 1,
            100_000, 0x999, 4, 7);
    assertThat(stream.profile().outside()).isEqualTo(7);
    assertThat(stream.profile().executed()).isEqualTo(111_111);
    Predecoder all = Predecoder.builder(SmallSet.SET).build();
    assertShares(stream, all, 11_111, 11_111);
    Predecoder bare =
        Predecoder.builder(SmallSet.SET)
            .prefixes(PrefixTreatment.NOT_HANDLED)
            .depth(SpecifierDepth.BYTE)
            .build();
    assertShares(stream, bare, 10_001, 10_001);
    Predecoder noEscape = Predecoder.builder(SmallSet.SET).leaveOut("base", 0xe0).build();
    assertShares(stream, noEscape, 1111, 1111);
    Predecoder anything =
        Predecoder.builder(SmallSet.SET).undefinedRows(UndefinedRows.ANYTHING).build();
    assertShares(stream, anything, 111_111, 11_111);
  }

  private static void assertShares(StudyStream stream, Predecoder lane, long handled, long exact) {
    Accuracy found = stream.accuracy(lane);
    assertThat(found.exact()).isEqualTo(exact);
    assertThat(found.exact() + found.wrong()).isEqualTo(handled);
  }

  /** The shortcut for rows left out must say what the lane model says of the lane as it is. */
  @Test
  void accuracy_equalsTheLaneModelAskedForEachInstruction() {
    StudyStream stream = SmallSet.stream("random", 5);
    byte[] code = SmallSet.image(5, 20_000).sections().get(0).code();
    Random random = new Random(3);
    for (int i = 0; i < 60; i++) {
      Predecoder lane = randomLane(random);
      LaneModel model = LaneModel.of(lane);
      LaneItems items = new LaneItems(model);
      long handled = 0;
      long exact = 0;
      long count = 0;
      GoldenModel truth = GoldenModel.of(SmallSet.SET);
      byte[] alone = new byte[64];
      for (int at = 0; at < code.length; ) {
        int length = truth.lengthAt(0, code, at);
        if (length > 0) {
          Arrays.fill(alone, (byte) 0);
          System.arraycopy(code, at, alone, 0, length);
          byte answer = items.of(alone, 0, length, 0);
          count++;
          handled += LaneItems.isHandled(answer) ? 1 : 0;
          exact += LaneItems.isExact(answer) ? 1 : 0;
        }
        at += Math.max(1, length);
      }
      assertWithMessage("%s", lane).that(stream.accuracy(lane).exact()).isEqualTo(exact);
      assertThat(stream.profile().executed()).isEqualTo(count);
      assertThat(handled).isEqualTo(exact);
    }
  }

  static Predecoder randomLane(Random random) {
    PrefixTreatment[] treatments = {
      PrefixTreatment.NOT_HANDLED,
      PrefixTreatment.ONE_UNIT_EACH,
      PrefixTreatment.folded(1),
      PrefixTreatment.folded(2)
    };
    Predecoder.Builder lane =
        Predecoder.builder(SmallSet.SET)
            .prefixes(treatments[random.nextInt(4)])
            .depth(List.of(SpecifierDepth.values()).get(random.nextInt(4)));
    if (random.nextBoolean()) {
      lane.longest(2 + random.nextInt(9));
    }
    if (random.nextBoolean()) {
      lane.lookahead(random.nextInt(5));
    }
    for (int i = random.nextInt(4); i > 0; i--) {
      int from = random.nextInt(0x68);
      lane.leaveOut(random.nextBoolean() ? "base" : "more", from, from + random.nextInt(16));
    }
    if (random.nextInt(4) == 0) {
      lane.leaveOut("base", 0xe0);
    }
    return lane.build();
  }

  @Test
  void throughput_runsTheItemsInTheOrderOfTheTrace() throws IOException {
    Path trace =
        Files.writeString(
            folder.resolve("trace"), "403 6\n401 2\n400 1\n401 2\n409 5\n40e 2\n9999 4\n403 6\n");
    StudyStream stream = StudyStream.ofTrace("order", SmallSet.SET, 0, IMAGE, trace);
    assertThat(stream.profile().outside()).isEqualTo(1);
    FrontEnd frontEnd = FrontEnd.builder(8).decoder(2).slowPath(5).build();
    Predecoder lane =
        Predecoder.builder(SmallSet.SET)
            .prefix(0xf0, PrefixTreatment.folded(1))
            .prefix(0xf1, PrefixTreatment.ONE_UNIT_EACH)
            .leaveOut("base", 0x40)
            .build();
    FetchModel model = FetchModel.of(frontEnd, CodeUnit.BYTE);
    model.instruction(0x403, 6, 0, true);
    model.instruction(0x401, 2, 1, true);
    model.instruction(0x400, 1, 0, true);
    model.instruction(0x401, 2, 1, true);
    model.instruction(0x409, 5, 0, false);
    model.instruction(0x40e, 2, 0, true);
    model.instruction(0x403, 6, 0, true);
    assertThat(stream.throughput(lane, frontEnd)).isEqualTo(model.finish());
  }

  @Test
  void order_withAnInstructionThatWasNotCounted_isRefused() {
    CodeStream stream = new CodeStream("hand", IMAGE, counts(0x400, 1, 1));
    IllegalStateException e =
        assertThrows(
            IllegalStateException.class,
            () ->
                StudyStream.of(
                    stream,
                    SmallSet.SET,
                    0,
                    sink -> {
                      sink.instruction(0x401, 2);
                      return 1;
                    }));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "trace: the same instructions are expected when it is read again, found one that was"
                + " not counted");
  }

  @Test
  void throughput_withoutOrder_isRefused() {
    StudyStream stream = counted(0x400, 1, 1);
    IllegalStateException e =
        assertThrows(
            IllegalStateException.class,
            () ->
                stream.throughput(
                    Predecoder.builder(SmallSet.SET).build(), FrontEnd.builder(8).build()));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo("stream hand: an order is needed for throughput, found counts alone");
  }

  @Test
  void code_ofAnotherPlace_isRefused() {
    IllegalArgumentException e =
        assertThrows(IllegalArgumentException.class, () -> counted(0x999, 1, 1));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "stream hand: an image with the code of its instructions is expected, found none of 1");
  }

  @Test
  void lane_ofAnotherSet_isRefused() {
    Predecoder other = Predecoder.builder(Ia32.instructionSet()).build();
    IllegalArgumentException e =
        assertThrows(
            IllegalArgumentException.class, () -> SmallSet.stream("small", 1).accuracy(other));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo("accuracy of ia32_lane: a lane of gate is expected, found one of ia32");
  }
}

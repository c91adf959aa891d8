package dev.lengthwise.study.accuracy;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.study.Libc32;
import dev.lengthwise.study.RandomLanes;
import dev.lengthwise.study.item.LaneItems;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Slow;
import java.util.EnumMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;

/** Every build asks five of the twelve random lanes at each instruction. */
@Slow
class AccuracyProfileTest {

  private static final InstructionSet SET = Libc32.TRUTH.instructionSet();

  /** Random bytes as code, each place an instruction of its own, with random counts. */
  private static CodeStream random(long seed, int bytes) {
    SplittableRandom random = new SplittableRandom(seed);
    byte[] code = new byte[bytes];
    random.nextBytes(code);
    int[] codes = SET.prefixes().prefixes().keySet().stream().mapToInt(i -> i).toArray();
    int[] escapes = {0x0f, 0x0f, 0xc4, 0xc5, 0xf6, 0xf7, 0x8b, 0x8d, 0x38, 0x3a};
    for (int i = 0; i < bytes; i++) {
      if (random.nextInt(3) == 0) {
        int[] from = random.nextBoolean() ? codes : escapes;
        code[i] = (byte) from[random.nextInt(from.length)];
      }
    }
    TraceCounts.Counter counter = new TraceCounts.Counter();
    byte[] tail = new byte[bytes + 32];
    System.arraycopy(code, 0, tail, 0, bytes);
    for (int i = 0; i < bytes; i++) {
      int length = Libc32.TRUTH.lengthAt(Ia32.MODES_32, tail, i);
      int prefixes = 0;
      while (SET.prefixes().prefix(tail[i + prefixes] & 0xff).isPresent()) {
        prefixes++;
      }
      int recorded = length > 0 ? length : prefixes + 1 + random.nextInt(9);
      for (int j = 1 + random.nextInt(9); j > 0; j--) {
        counter.instruction(0x1000 + i, recorded);
      }
    }
    CodeImage image = CodeImage.of(List.of(CodeImage.Section.of("code", 0x1000, tail)));
    return new CodeStream("random", image, counter.counts());
  }

  @Slow
  @Test
  void accuracy_randomLanes_equalsTheLaneModelAtEachInstruction() {
    CodeStream stream = random(5, 4_000);
    AccuracyProfile profile = AccuracyProfile.of(stream, Libc32.TRUTH, Ia32.MODES_32);
    assertThat(profile.outside() + profile.disagreeing()).isEqualTo(0);
    assertThat(profile.executed()).isEqualTo(stream.counts().instructions());
    RandomLanes lanes = new RandomLanes(SET, 6);
    for (int i = 0; i < Extent.of(5, 12); i++) {
      Predecoder lane = lanes.next();
      assertWithMessage("%s", lane)
          .that(profile.accuracy(lane))
          .isEqualTo(slow(stream, lane, profile.executed()));
    }
  }

  /**
   * Asks the model of the whole lane, left-out rows included, and of the lanes on the way to it.
   */
  private static Accuracy slow(CodeStream stream, Predecoder lane, long executed) {
    Map<Accuracy.LossCause, LaneModel> steps = new EnumMap<>(Accuracy.LossCause.class);
    for (Accuracy.LossCause step : Accuracy.LossCause.values()) {
      if (step != Accuracy.LossCause.UNDEFINED) {
        steps.put(step, LaneModel.of(upTo(step, lane)));
      }
    }
    LaneModel whole = LaneModel.of(lane);
    long exact = 0;
    long wrong = 0;
    Map<Accuracy.LossCause, Long> lost = new EnumMap<>(Accuracy.LossCause.class);
    TraceCounts counts = stream.counts();
    byte[] bytes = new byte[80];
    for (int i = 0; i < counts.distinct(); i++) {
      stream.image().read(counts.address(i), bytes);
      int length = counts.length(i);
      int truth = Libc32.TRUTH.lengthAt(Ia32.MODES_32, bytes, 0);
      byte items = new LaneItems(whole).of(bytes, 0, length, Ia32.MODES_32);
      if (LaneItems.isHandled(items)) {
        exact += truth > 0 && LaneItems.isExact(items) ? counts.count(i) : 0;
        wrong += truth > 0 && LaneItems.isExact(items) ? 0 : counts.count(i);
      } else {
        Accuracy.LossCause cause =
            truth <= 0
                ? Accuracy.LossCause.UNDEFINED
                : steps.entrySet().stream()
                    .filter(
                        e ->
                            !LaneItems.isHandled(
                                new LaneItems(e.getValue()).of(bytes, 0, length, Ia32.MODES_32)))
                    .findFirst()
                    .orElseThrow()
                    .getKey();
        lost.merge(cause, counts.count(i), Long::sum);
      }
    }
    return new Accuracy(executed, exact, wrong, lost);
  }

  /** The restrictions up to one, rows left out among them. */
  private static Predecoder upTo(Accuracy.LossCause step, Predecoder lane) {
    Predecoder.Builder builder = Predecoder.builder(SET).undefinedRows(lane.undefinedRows());
    lane.prefixes().forEach(builder::prefix);
    if (step.compareTo(Accuracy.LossCause.LEFT_OUT) >= 0) {
      lane.leftOut().forEach(rows -> builder.leaveOut(rows.map(), rows.from(), rows.to()));
    }
    if (step.compareTo(Accuracy.LossCause.OPERAND_BYTES) >= 0) {
      builder.depth(lane.depth());
    }
    if (step.compareTo(Accuracy.LossCause.LOOKAHEAD) >= 0) {
      builder.lookahead(lane.lookahead());
    }
    if (step.compareTo(Accuracy.LossCause.LENGTH_LIMIT) >= 0) {
      builder.longest(lane.longest());
    }
    return builder.build();
  }

  @Test
  void accuracy_widestLane_handlesTheWholeLibrary() {
    AccuracyProfile profile = AccuracyProfile.of(Libc32.stream(), Libc32.TRUTH, Ia32.MODES_32);
    Accuracy accuracy = profile.accuracy(Predecoder.builder(SET).build());
    assertThat(accuracy.exact()).isEqualTo(profile.executed());
    assertThat(accuracy.exactShare()).isEqualTo(1.0);
    assertThat(accuracy.lost()).isEmpty();
    assertThat(profile.executed()).isGreaterThan(400_000L);
  }

  /** One instruction for each cause, each executed once more than the one before. */
  @Test
  void accuracy_eachCause_isCounted() {
    List<String> code =
        List.of(
            "90", // handled
            "0f04", // undefined
            "f390", // prefix
            "40", // left out
            "f7c044332211", // a row by the next byte
            "0fb684246f010000", // the specifier byte is beyond the lookahead
            "b844332211"); // longer than the limit
    CodeStream stream = stream(code);
    Predecoder lane =
        Predecoder.builder(SET)
            .prefixes(PrefixTreatment.NOT_HANDLED)
            .leaveOut("one_byte", 0x40)
            .depth(SpecifierDepth.INDEX_BYTE)
            .lookahead(1)
            .longest(4)
            .build();
    AccuracyProfile profile = AccuracyProfile.of(stream, Libc32.TRUTH, Ia32.MODES_32);
    assertThat(profile.accuracy(lane))
        .isEqualTo(
            new Accuracy(
                28,
                1,
                0,
                Map.of(
                    Accuracy.LossCause.UNDEFINED, 2L,
                    Accuracy.LossCause.PREFIX, 3L,
                    Accuracy.LossCause.LEFT_OUT, 4L,
                    Accuracy.LossCause.OPERAND_BYTES, 5L,
                    Accuracy.LossCause.LOOKAHEAD, 6L,
                    Accuracy.LossCause.LENGTH_LIMIT, 7L)));
    assertThat(profile.accuracy(lane).toString())
        .isEqualTo(
            "28 executed, 3.571% exact, 0 wrong, lost [undefined 2, prefix 3, left_out 4,"
                + " operand_bytes 5, lookahead 6, length_limit 7]");
    Predecoder lax = Predecoder.builder(SET).undefinedRows(UndefinedRows.ANYTHING).build();
    assertThat(profile.accuracy(lax)).isEqualTo(new Accuracy(28, 26, 2, Map.of()));
    assertThat(profile.accuracy(lax).handledShare()).isEqualTo(1.0);
  }

  private static CodeStream stream(List<String> code) {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    byte[] bytes = HexFormat.of().parseHex(String.join("", code) + "00".repeat(16));
    int offset = 0;
    for (int i = 0; i < code.size(); i++) {
      int length = code.get(i).length() / 2;
      for (int j = 0; j <= i; j++) {
        counter.instruction(offset, length);
      }
      offset += length;
    }
    return new CodeStream(
        "few", CodeImage.of(List.of(CodeImage.Section.of("few", 0, bytes))), counter.counts());
  }

  @Test
  void rows_leftOut_sayWhatEachAloneCosts() {
    CodeStream stream = stream(List.of("90", "40", "0fa2", "0f0b", "41"));
    Predecoder lane =
        Predecoder.builder(SET)
            .leaveOut("one_byte", 0x0f)
            .leaveOut("one_byte", 0x40)
            .leaveOut("two_byte", 0xa2)
            .build();
    AccuracyProfile profile = AccuracyProfile.of(stream, Libc32.TRUTH, Ia32.MODES_32);
    assertThat(profile.rows(lane).stream().map(AccuracyProfile.OpcodeRow::toString))
        .containsExactly(
            "one_byte 0x0f: 7 executed, 0 exact, left out, 4 regained",
            "one_byte 0x40: 2 executed, 0 exact, left out, 2 regained",
            "one_byte 0x41: 5 executed, 5 exact",
            "one_byte 0x90: 1 executed, 1 exact",
            "two_byte 0x0b: 4 executed, 0 exact",
            "two_byte 0xa2: 3 executed, 0 exact, left out, 0 regained")
        .inOrder();
    assertThat(profile.accuracy(lane).lost(Accuracy.LossCause.LEFT_OUT)).isEqualTo(9);
  }

  @Test
  void of_otherImage_countsWhatItCannotJudge() {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    LongStream.of(0, 0, 5, 6, 7, 0x1000).forEach(address -> counter.instruction(address, 1));
    CodeImage image =
        CodeImage.of(
            List.of(CodeImage.Section.of("few", 0, HexFormat.of().parseHex("90000000009089d2"))));
    AccuracyProfile profile =
        AccuracyProfile.of(
            new CodeStream("other", image, counter.counts()), Libc32.TRUTH, Ia32.MODES_32);
    assertThat(profile.executed()).isEqualTo(3); // 90 twice at 0, once at 5
    assertThat(profile.disagreeing()).isEqualTo(1); // 89 d2 has two bytes
    assertThat(profile.outside()).isEqualTo(2); // d2 goes on behind the image
    assertThat(profile.toString()).isEqualTo("other: 3 executed, 1 classes");
  }

  @Test
  void accuracy_laneOfAnotherSet_saysSo() {
    LengthTable table =
        LengthTable.named("sluice").map("base", map -> map.others().bytes(1)).build();
    Predecoder lane = Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE)).build();
    AccuracyProfile profile =
        AccuracyProfile.of(stream(List.of("90")), Libc32.TRUTH, Ia32.MODES_32);
    assertThat(assertThrows(IllegalArgumentException.class, () -> profile.accuracy(lane)))
        .hasMessageThat()
        .isEqualTo("accuracy of sluice_lane: a lane of ia32 is expected, found one of sluice");
  }
}

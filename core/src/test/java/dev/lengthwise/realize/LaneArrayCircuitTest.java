package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.golden.ArrayClock;
import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import dev.lengthwise.testing.WordSets;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Circuits of lane arrays against the golden function, cycle by cycle; about 20 s. In style rom,
 * every build tries each kind of row with one marking, {@code -Dwhole=true} with all three.
 */
@Slow
class LaneArrayCircuitTest {

  private static final int CYCLES = 1500;

  static List<LaneArray> arrays() {
    // Of fourteen kinds by three markings, so that the kinds turn.
    return Extent.oneOf(3, allArrays());
  }

  private static List<LaneArray> allArrays() {
    List<LaneArray> arrays = new ArrayList<>();
    List<Marking> markings =
        List.of(Marking.fullRipple(), Marking.fullLogarithmic(), Marking.first(2));
    for (Marking marking : markings) {
      for (int cuts = 0; cuts < 4; cuts++) {
        LaneArray.Builder builder =
            LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 4 + cuts)
                .marking(marking);
        if ((cuts & 1) != 0) {
          builder.cut(PipelineCut.AFTER_LANES);
        }
        if ((cuts & 2) != 0) {
          builder.cut(PipelineCut.AFTER_MARKS);
        }
        arrays.add(builder.build());
      }
      for (int window : new int[] {8, 13, 16, 32}) {
        arrays.add(
            LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), window)
                .marking(marking)
                .end(window == 32 ? WindowEnd.NEXT_BYTES : WindowEnd.NOT_HANDLED)
                .build());
      }
      for (PrefixTreatment treatment :
          List.of(PrefixTreatment.NOT_HANDLED, PrefixTreatment.folded(2))) {
        arrays.add(
            LaneArray.builder(Predecoder.builder(SampleSets.bytes()).prefixes(treatment).build(), 8)
                .marking(marking)
                .build());
      }
      arrays.add(
          LaneArray.builder(
                  Predecoder.builder(SampleSets.bytes())
                      .prefixes(PrefixTreatment.folded(1))
                      .prefix(0xf0, PrefixTreatment.ONE_UNIT_EACH)
                      .build(),
                  8)
              .marking(marking)
              .build());
      arrays.add(
          LaneArray.builder(
                  Predecoder.builder(SampleSets.bytes())
                      .undefinedRows(UndefinedRows.ANYTHING)
                      .build(),
                  8)
              .cut(PipelineCut.AFTER_LANES)
              .marking(marking)
              .build());
      for (WindowEnd end : WindowEnd.values()) {
        arrays.add(
            LaneArray.builder(
                    Predecoder.builder(SampleSets.words(CodeUnit.WORD_BIG_ENDIAN)).build(), 8)
                .marking(marking)
                .end(end)
                .build());
      }
    }
    return arrays;
  }

  @ParameterizedTest
  @MethodSource("arrays")
  void rom_randomWindows_agreesWithTheModel(LaneArray array) {
    check(array, Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array, Style.ROM));
  }

  /** Arrays whose style matters: with and without late modes, and with lanes that see less. */
  static List<LaneArray> fewArrays() {
    return List.of(
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 8).build(),
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 5)
            .end(WindowEnd.NOT_HANDLED)
            .build(),
        LaneArray.builder(
                Predecoder.builder(SampleSets.bytes())
                    .prefixes(PrefixTreatment.NOT_HANDLED)
                    .build(),
                16)
            .build(),
        LaneArray.builder(
                Predecoder.builder(SampleSets.bytes())
                    .prefixes(PrefixTreatment.NOT_HANDLED)
                    .prefix(0xf0, PrefixTreatment.ONE_UNIT_EACH)
                    .build(),
                8)
            .build());
  }

  @ParameterizedTest
  @MethodSource("fewArrays")
  void banked_randomWindows_agreesWithTheModel(LaneArray array) {
    check(array, Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array, Style.BANKED));
  }

  /** One prefix bit tells both that a byte is a prefix and what it does. */
  @ParameterizedTest
  @EnumSource(PrefixRules.Effect.class)
  void rom_everyPrefixHasTheEffect_agreesWithTheModel(PrefixRules.Effect effect) {
    LengthTable table = SampleSets.bytes().table();
    String mode = table.modes().get(0);
    PrefixRules.Builder rules = PrefixRules.builder();
    PrefixRules prefixes =
        switch (effect) {
          case FLIP -> rules.flips(0xf0, mode).flips(0xf1, mode).build();
          case SET -> rules.sets(0xf0, mode).build();
          case CLEAR -> rules.clears(0xf0, mode).build();
        };
    Predecoder lane = Predecoder.builder(InstructionSet.of(table, prefixes, 12)).build();
    for (Marking marking : List.of(Marking.fullRipple(), Marking.fullLogarithmic())) {
      LaneArray array =
          LaneArray.builder(lane, 8).marking(marking).cut(PipelineCut.AFTER_LANES).build();
      Design design = Realizer.on(DeviceProfile.fourInput()).realize(array, Style.ROM);
      check(array, design);
      for (int position = 0; position < 8; position++) {
        String held = "held_prefix_" + position;
        assertWithMessage("%s", held)
            .that(
                design.circuit().nodes().stream()
                    .filter(node -> node instanceof Node.Register r && r.name().equals(held))
                    .map(Node::width)
                    .toList())
            .containsExactly(1);
      }
    }
  }

  @Test
  void lutNetwork_randomWindows_agreesWithTheModel() {
    LaneArray array = fewArrays().get(1);
    check(array, Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array, Style.LUT_NETWORK));
  }

  @Test
  void lutNetwork_wordsInARow_agreesWithTheModel() {
    LaneArray array = LaneArray.builder(Predecoder.builder(WordSets.t32()).build(), 8).build();
    check(array, Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array, Style.LUT_NETWORK));
  }

  private static void check(LaneArray array, Design design) {
    check(array, design, CYCLES / 3);
  }

  /** Runs random windows, in which so many items at least must get a length. */
  static void check(LaneArray array, Design design, int leastItems) {
    ArrayBench bench = new ArrayBench(design);
    SplittableRandom random = new SplittableRandom(5);
    boolean words = array.lane().instructionSet().table().unit().bytes() == 2;
    int window = array.windowBytes();
    byte[] memory = new byte[window + array.nextBytes()];
    byte[] next = new byte[window + array.nextBytes()];
    fill(next, random, words);
    int items = 0;
    boolean[] carries = new boolean[1 << array.carryBits()];
    boolean again = false;
    for (int cycle = 0; cycle < CYCLES; cycle++) {
      if (!again) {
        System.arraycopy(next, 0, memory, 0, memory.length);
        fill(next, random, words);
        int seen = Math.min(array.nextBytes(), window);
        System.arraycopy(next, 0, memory, window, seen);
      }
      boolean valid = random.nextInt(8) > 0;
      boolean stall = random.nextInt(6) == 0;
      boolean lost = bench.clock().isWaiting() || !bench.clock().isStateKnown();
      boolean jump = !again && random.nextInt(lost ? 2 : 12) == 0;
      int redirect = jump ? random.nextInt(window) : ArrayModel.NO_REDIRECT;
      int modes = random.nextInt(1 << array.lane().instructionSet().table().modes().size());
      ArrayClock.Marks marks = bench.cycle(valid, stall, modes, memory, 0, redirect);
      if (marks.isValid() && marks.isKnown()) {
        items += marks.count();
      }
      carries[bench.clock().carry()] = true;
      again = valid && !bench.clock().isReady();
    }
    assertWithMessage("items").that(items).isGreaterThan(leastItems);
    int most = Math.min(array.lane().longest() - 1, 5);
    for (int carry = 0; carry < most; carry += words ? 2 : 1) {
      assertWithMessage("carry %s was met", carry).that(carries[carry]).isTrue();
    }
  }

  private static void fill(byte[] memory, SplittableRandom random, boolean words) {
    for (int i = 0; i < memory.length; i++) {
      int kind = random.nextInt(12);
      memory[i] =
          (byte)
              (kind == 0
                  ? 0xf0 + random.nextInt(4)
                  : kind == 1 ? random.nextInt(256) : random.nextInt(0x50));
      if (words && i % 2 == 1) {
        int choice = random.nextInt(6);
        int[] units = {0x9040, 0x8011 + (random.nextInt(256) << 4), 0x1234, 0x4afc, 0xf0f0, 0x2000};
        memory[i - 1] = (byte) (units[choice] >> 8);
        memory[i] = (byte) units[choice];
      }
    }
  }
}

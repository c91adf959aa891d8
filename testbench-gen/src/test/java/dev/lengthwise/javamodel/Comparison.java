package dev.lengthwise.javamodel;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.golden.Outcome;
import dev.lengthwise.predecode.Predecoder;
import java.lang.invoke.MethodHandle;
import java.util.EnumSet;
import java.util.HexFormat;
import java.util.Set;

/** Compares compiled models with the golden model and with the lane's golden function. */
final class Comparison {

  private final Predecoder lane;
  private final MethodHandle lengthModel;
  private final MethodHandle laneModel;
  private final GoldenModel golden;
  private final LaneModel goldenLane;
  private final Set<Outcome> outcomes = EnumSet.noneOf(Outcome.class);

  Comparison(CompiledModel compiled, Predecoder lane) {
    this.lane = lane;
    this.lengthModel = compiled.lengthModel();
    this.laneModel = compiled.laneModel();
    this.golden = GoldenModel.of(lane.instructionSet());
    this.goldenLane = LaneModel.of(lane);
  }

  /** Compares at offset 0 of some bytes, cut short at every place. */
  void everyEnd(byte[] code, int modes) throws Throwable {
    compareLane(code, 0, modes);
    for (int end = 0; end <= code.length; end++) {
      compareLength(code, 0, end, modes);
    }
  }

  /** Compares at every offset, modes taking turns. */
  void everyOffset(byte[] memory) throws Throwable {
    int modeWords = 1 << lane.instructionSet().table().modes().size();
    for (int offset = 0; offset <= memory.length; offset++) {
      compareLane(memory, offset, offset % modeWords);
      compareLength(memory, offset, memory.length, offset % modeWords);
    }
  }

  /** Compares the length models alone at every offset under one mode word. */
  void lengthsAtEveryOffset(byte[] memory, int modes) throws Throwable {
    for (int offset = 0; offset <= memory.length; offset++) {
      compareLength(memory, offset, memory.length, modes);
    }
  }

  private void compareLane(byte[] memory, int offset, int modes) throws Throwable {
    int said = (int) laneModel.invokeExact(modes, memory, offset);
    int expected = goldenLane.lengthAt(modes, memory, offset);
    if (said != expected) {
      throw difference("lane model", memory, offset, modes, expected, said);
    }
  }

  private void compareLength(byte[] memory, int offset, int end, int modes) throws Throwable {
    int said = (int) lengthModel.invokeExact(modes, memory, offset, end);
    int expected = golden.lengthAt(modes, memory, offset, end);
    if (said != expected) {
      throw difference("length model to " + end, memory, offset, modes, expected, said);
    }
    outcomes.add(Outcome.of(expected));
  }

  private AssertionError difference(
      String model, byte[] memory, int offset, int modes, int expected, int said) {
    int shown = Math.min(16, memory.length - offset);
    return new AssertionError(
        "%s of %s at %d: %s modes %d expected %d found %d"
            .formatted(
                model,
                lane.name(),
                offset,
                HexFormat.of().formatHex(memory, offset, offset + shown),
                modes,
                expected,
                said));
  }

  /** Returns the outcomes that the golden model has said. */
  Set<Outcome> outcomes() {
    return outcomes;
  }
}

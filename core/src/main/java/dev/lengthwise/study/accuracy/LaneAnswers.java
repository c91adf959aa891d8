package dev.lengthwise.study.accuracy;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.study.item.LaneItems;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.Collections;
import java.util.List;
import java.util.Optional;

/** What lanes of one {@link LaneRestrictions} make of each class of instructions. */
final class LaneAnswers {

  private static final Optional<Accuracy.LossCause> LEFT_OUT =
      Optional.of(Accuracy.LossCause.LEFT_OUT);
  private static final Optional<Accuracy.LossCause> UNDEFINED =
      Optional.of(Accuracy.LossCause.UNDEFINED);

  private final List<Optional<Accuracy.LossCause>> causeOfClass;
  private final BitSet exact = new BitSet();

  /** Asks the lane model, at each step of restrictions, about each class. */
  LaneAnswers(Predecoder lane, List<InstructionClass> classes, int modes) {
    causeOfClass = new ArrayList<>(Collections.nCopies(classes.size(), Optional.empty()));
    List<Accuracy.LossCause> steps = LaneRestrictions.steps();
    Accuracy.LossCause last = steps.get(steps.size() - 1);
    LaneItems full = new LaneItems(LaneModel.of(LaneRestrictions.upTo(last, lane)));
    BitSet lost = new BitSet();
    for (int i = 0; i < classes.size(); i++) {
      Work.check();
      byte items = ask(full, classes.get(i), modes);
      if (LaneItems.isHandled(items)) {
        exact.set(i, classes.get(i).isDefined() && LaneItems.isExact(items));
      } else if (classes.get(i).isDefined()) {
        lost.set(i);
      } else {
        causeOfClass.set(i, UNDEFINED);
      }
    }
    for (Accuracy.LossCause step : steps) {
      LaneItems model =
          step == last ? full : new LaneItems(LaneModel.of(LaneRestrictions.upTo(step, lane)));
      Optional<Accuracy.LossCause> cause = Optional.of(step);
      for (int i = lost.nextSetBit(0); i >= 0; i = lost.nextSetBit(i + 1)) {
        if (!LaneItems.isHandled(ask(model, classes.get(i), modes))) {
          causeOfClass.set(i, cause);
          lost.clear(i);
        }
      }
    }
  }

  private static byte ask(LaneItems model, InstructionClass instructions, int modes) {
    return model.of(instructions.sample(), 0, instructions.length(), modes);
  }

  /** Tells whether a lane that leaves no row out says the true length of a class. */
  boolean isExact(int index) {
    return exact.get(index);
  }

  /**
   * Returns why a class is not handled; empty if the lane says a length.
   *
   * @param leftOut whether a row on the way to the class is left out
   */
  Optional<Accuracy.LossCause> cause(int index, boolean leftOut, boolean defined) {
    Optional<Accuracy.LossCause> cause = causeOfClass.get(index);
    boolean sooner = cause.isPresent() && cause.get() == Accuracy.LossCause.PREFIX;
    return !leftOut || sooner ? cause : defined ? LEFT_OUT : UNDEFINED;
  }
}

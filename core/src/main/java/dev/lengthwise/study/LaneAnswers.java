package dev.lengthwise.study;

import dev.lengthwise.predecode.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import java.util.List;

/** What lanes of one {@link LaneBase} make of each class of instructions. */
final class LaneAnswers {

  static final int EXACT = -1;
  static final int WRONG = -2;

  private static final List<LossCause> CAUSES = List.of(LossCause.values());

  private final byte[] answerOfClass;

  /** Asks the lane model, at each step of restrictions, about each class. */
  LaneAnswers(Predecoder lane, List<InstructionClass> classes, int modes) {
    answerOfClass = new byte[classes.size()];
    List<LossCause> steps = LaneBase.steps();
    LossCause last = steps.get(steps.size() - 1);
    LaneItems full = new LaneItems(LaneModel.of(LaneBase.upTo(last, lane)));
    boolean[] lost = new boolean[answerOfClass.length];
    for (int i = 0; i < answerOfClass.length; i++) {
      byte items = ask(full, classes.get(i), modes);
      lost[i] = !LaneItems.isHandled(items);
      answerOfClass[i] = (byte) (LaneItems.isExact(items) ? EXACT : WRONG);
      if (!classes.get(i).isDefined()) {
        answerOfClass[i] = (byte) (lost[i] ? number(LossCause.UNDEFINED) : WRONG);
        lost[i] = false;
      }
    }
    for (LossCause step : steps) {
      LaneItems model =
          step == last ? full : new LaneItems(LaneModel.of(LaneBase.upTo(step, lane)));
      for (int i = 0; i < answerOfClass.length; i++) {
        if (lost[i] && !LaneItems.isHandled(ask(model, classes.get(i), modes))) {
          answerOfClass[i] = (byte) number(step);
          lost[i] = false;
        }
      }
    }
  }

  private static byte ask(LaneItems model, InstructionClass instructions, int modes) {
    return model.of(instructions.sample(), 0, instructions.length(), modes);
  }

  /**
   * Returns {@link #EXACT}, {@link #WRONG}, or the number of the cause.
   *
   * @param leftOut whether a row on the way to the class is left out
   */
  int of(int index, boolean leftOut, boolean defined) {
    int answer = answerOfClass[index];
    if (!leftOut || answer == number(LossCause.PREFIX)) {
      return answer;
    }
    return number(defined ? LossCause.LEFT_OUT : LossCause.UNDEFINED);
  }

  private static int number(LossCause cause) {
    return CAUSES.indexOf(cause);
  }

  /** Returns the cause with a number. */
  static LossCause cause(int number) {
    return CAUSES.get(number);
  }
}

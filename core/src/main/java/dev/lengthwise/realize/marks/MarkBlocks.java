package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;

/** The block that finds the items of a window: one class for each marking. */
public final class MarkBlocks {

  private MarkBlocks() {}

  /**
   * Makes the block of a row's marking.
   *
   * @param array the row
   * @param late the modes that are known after the lanes
   * @return the block
   */
  public static Circuit of(LaneArray array, LateModes late) {
    if (array.marking() instanceof Marking.First first) {
      return new FirstMarks(array, late, first.count()).build();
    }
    return switch (((Marking.Full) array.marking()).form()) {
      case RIPPLE -> new RippleMarks(array, late).build();
      case LOGARITHMIC -> new LogarithmicMarks(array, late).build();
    };
  }
}

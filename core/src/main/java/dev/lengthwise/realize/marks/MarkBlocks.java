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
    return array
        .marking()
        .accept(
            new Marking.Visitor<>() {
              @Override
              public Circuit full(Marking.Full marking) {
                return switch (marking.form()) {
                  case RIPPLE -> new RippleMarks(array, late).build();
                  case LOGARITHMIC -> new LogarithmicMarks(array, late).build();
                };
              }

              @Override
              public Circuit byEntry(Marking.ByEntry marking) {
                return new EntryMarks(array, late, array.entryPlan().orElseThrow()).build();
              }

              @Override
              public Circuit first(Marking.First marking) {
                return new FirstMarks(array, late, marking.count()).build();
              }
            });
  }
}

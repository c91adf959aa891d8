package dev.lengthwise.examples.set;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;

/** The row of lanes that examples build. */
public final class FetchRow {

  private FetchRow() {}

  /**
   * Returns one over a window of eight bytes, with registers between the lanes and the marks.
   *
   * @param lane what its lanes handle
   * @return the row, named after the instruction set
   */
  public static LaneArray of(Predecoder lane) {
    return LaneArray.builder(lane, 8)
        .name(lane.instructionSet().table().name() + "_fetch")
        .cut(PipelineCut.AFTER_LANES)
        .build();
  }
}

package dev.lengthwise.testbench.cycle;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import java.util.List;

/** The fields of a cycle of a row of lanes. */
public final class ArrayFields extends CycleFields {

  /** The state before the cycle is fixed. */
  public static final int STATE = 0;

  /** Whether there are marks is fixed. */
  static final int VALID = 1;

  /** A window is offered, and whether it is taken is fixed. */
  static final int READY = 2;

  /** There are marks, and they are fixed. */
  public static final int MARKS = 3;

  private final LaneArray array;

  /**
   * Lists the fields of a row.
   *
   * @param array the row
   */
  public ArrayFields(LaneArray array) {
    this.array = array;
    addState(this, array);
    output("ready", 1, READY);
    output("marks_valid", 1, VALID);
    addMarks(this, array);
    input("valid", 1);
    input("stall", 1);
    input("redirect", 1);
    input("redirect_offset", array.offsetBits());
    for (String mode : array.lane().instructionSet().table().modes()) {
      input(mode, 1);
    }
    if (array.nextBytes() > 0) {
      input("next_code", 8 * array.nextBytes());
    }
    input("window", 8 * array.windowBytes());
    counter("windows offered", -1, List.of("valid"), List.of("stall"));
    counter("redirects", -1, List.of("valid", "redirect"), List.of("stall"));
    counter("stalls", -1, List.of("stall"), List.of());
    counter("starts not handled", MARKS, List.of("not_handled"), List.of());
  }

  /** Adds the outputs of the state. */
  static void addState(CycleFields fields, LaneArray array) {
    fields.output("carry", array.carryBits(), STATE);
    int late = Integer.bitCount(array.lateModes());
    if (late > 0) {
      fields.output("changed_modes", late, STATE);
    }
    fields.output("waiting", 1, STATE);
  }

  /** Adds the outputs that speak of a window. */
  static void addMarks(CycleFields fields, LaneArray array) {
    fields.output("not_handled", 1, MARKS);
    fields.output("not_handled_offset", array.offsetBits(), MARKS);
    array.marking().accept(new MarkFields(fields, array));
  }

  /** Adds what a marking says, and returns the fields. */
  private record MarkFields(CycleFields fields, LaneArray array)
      implements Marking.Visitor<CycleFields> {

    @Override
    public CycleFields full(Marking.Full marking) {
      return starts();
    }

    @Override
    public CycleFields byEntry(Marking.ByEntry marking) {
      return starts();
    }

    private CycleFields starts() {
      fields.output("start", array.windowBytes(), MARKS);
      return fields;
    }

    @Override
    public CycleFields first(Marking.First marking) {
      for (int i = 0; i < marking.count(); i++) {
        fields.output("found_" + i, 1, MARKS);
        fields.output("position_" + i, array.offsetBits(), MARKS, "found_" + i);
        fields.output("length_" + i, array.lane().lengthBits(), MARKS, "found_" + i);
      }
      return fields;
    }
  }

  public LaneArray array() {
    return array;
  }
}

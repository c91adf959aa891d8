package dev.lengthwise.testbench;

import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The fields of a cycle in a vector file of a row of lanes, each of whole bytes; the benches and
 * the writer of the file take them from here.
 */
final class ArrayFields {

  /** When an output is compared: a bit of the field {@code checks}. */
  enum Check {
    /** The state before the cycle is fixed. */
    STATE(0),
    /** Whether there are marks is fixed. */
    VALID(1),
    /** A window is offered, and whether it is taken is fixed. */
    READY(2),
    /** There are marks, and they are fixed. */
    MARKS(3);

    private final int bit;

    Check(int bit) {
      this.bit = bit;
    }

    /** Returns its bit. */
    int bit() {
      return bit;
    }
  }

  /**
   * An output of the design.
   *
   * @param port its name
   * @param width bits
   * @param check when it is compared
   * @param onlyWith the output that must be 1 for it to be compared, or empty
   */
  record Output(String port, int width, Check check, String onlyWith) {}

  /**
   * An input of the design.
   *
   * @param port its name
   * @param width bits
   */
  record Input(String port, int width) {}

  private final LaneArray array;
  private final List<Output> outputs = new ArrayList<>();
  private final List<Input> inputs = new ArrayList<>();

  ArrayFields(LaneArray array) {
    this.array = array;
    outputs.add(new Output("carry", array.carryBits(), Check.STATE, ""));
    int late = Integer.bitCount(array.lateModes());
    if (late > 0) {
      outputs.add(new Output("changed_modes", late, Check.STATE, ""));
    }
    outputs.add(new Output("waiting", 1, Check.STATE, ""));
    outputs.add(new Output("ready", 1, Check.READY, ""));
    outputs.add(new Output("marks_valid", 1, Check.VALID, ""));
    outputs.add(new Output("not_handled", 1, Check.MARKS, ""));
    outputs.add(new Output("not_handled_offset", array.offsetBits(), Check.MARKS, ""));
    if (array.marking() instanceof Marking.First first) {
      for (int i = 0; i < first.count(); i++) {
        outputs.add(new Output("found_" + i, 1, Check.MARKS, ""));
        outputs.add(new Output("position_" + i, array.offsetBits(), Check.MARKS, "found_" + i));
        int bits = array.lane().lengthBits();
        outputs.add(new Output("length_" + i, bits, Check.MARKS, "found_" + i));
      }
    } else {
      outputs.add(new Output("start", array.windowBytes(), Check.MARKS, ""));
    }
    inputs.add(new Input("valid", 1));
    inputs.add(new Input("stall", 1));
    inputs.add(new Input("redirect", 1));
    inputs.add(new Input("redirect_offset", array.offsetBits()));
    for (String mode : array.lane().instructionSet().table().modes()) {
      inputs.add(new Input(mode, 1));
    }
    if (array.nextBytes() > 0) {
      inputs.add(new Input("next_code", 8 * array.nextBytes()));
    }
    inputs.add(new Input("window", 8 * array.windowBytes()));
  }

  LaneArray array() {
    return array;
  }

  /** Returns the outputs in the order of the fields behind {@code checks}. */
  List<Output> outputs() {
    return outputs;
  }

  /** Returns the inputs in the order of the fields behind the outputs. */
  List<Input> inputs() {
    return inputs;
  }

  private static int fieldBits(int width) {
    return (width + 7) / 8 * 8;
  }

  /** Returns the bits of a cycle. */
  int wordBits() {
    return 8
        + outputs.stream().mapToInt(o -> fieldBits(o.width())).sum()
        + inputs.stream().mapToInt(i -> fieldBits(i.width())).sum();
  }

  /** Returns the lowest bit of each field by its port; {@code checks} is the highest byte. */
  Map<String, Integer> lowBits() {
    Map<String, Integer> low = new LinkedHashMap<>();
    int at = wordBits() - 8;
    low.put("checks", at);
    for (Output output : outputs) {
      at -= fieldBits(output.width());
      low.put(output.port(), at);
    }
    for (Input input : inputs) {
      at -= fieldBits(input.width());
      low.put(input.port(), at);
    }
    return low;
  }
}

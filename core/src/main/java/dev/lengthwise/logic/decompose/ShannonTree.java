package dev.lengthwise.logic.decompose;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.Arrays;

/** Functions read from a table by multiplexers of LUTs: the fallback that always works. */
final class ShannonTree {

  private ShannonTree() {}

  /** Returns how many LUTs of K inputs (3 to 8) the plain construction takes for n inputs. */
  static int rom(int inputs, int mostFanIns) {
    return inputs <= mostFanIns
        ? Math.min(inputs, 1)
        : cost(inputs, select(inputs, mostFanIns), mostFanIns);
  }

  private static int cost(int inputs, int select, int mostFanIns) {
    int muxLuts = select == 2 && mostFanIns < 6 ? 2 : 1;
    return (1 << select) * rom(inputs - select, mostFanIns) + muxLuts;
  }

  /**
   * Returns how many selects the last multiplexer takes: 1, or 2 if that costs no more. A four-way
   * multiplexer is one LUT of 6 inputs or two of 4.
   */
  private static int select(int inputs, int mostFanIns) {
    return mostFanIns >= 4 && cost(inputs, 2, mostFanIns) <= cost(inputs, 1, mostFanIns) ? 2 : 1;
  }

  /** Builds an output by expansion over its last inputs, and returns its signal. */
  static int build(TruthTable table, int[] signals, int mostFanIns, LutNetworkBuilder builder) {
    int inputs = table.inputs();
    if (inputs <= mostFanIns) {
      return builder.lut(TruthTable.of(inputs, table::isOn), signals);
    }
    int select = select(inputs, mostFanIns);
    int rest = inputs - select;
    int data = 1 << select;
    int[] pins = new int[data + select];
    for (int i = 0; i < data; i++) {
      int high = i << rest;
      TruthTable part = TruthTable.of(rest, p -> table.isOn(p | high), p -> table.isCare(p | high));
      pins[i] = build(part, Arrays.copyOf(signals, rest), mostFanIns, builder);
    }
    System.arraycopy(signals, rest, pins, data, select);
    if (pins.length > mostFanIns) {
      // One LUT picks among the first two, or passes on the low select when the high one is set.
      int low =
          builder.lut(
              TruthTable.of(4, p -> (p & 8) != 0 ? (p & 4) != 0 : (p >> (p >> 2 & 1) & 1) != 0),
              pins[0],
              pins[1],
              pins[4],
              pins[5]);
      return builder.lut(
          TruthTable.of(4, p -> ((p & 8) == 0 ? p >> 2 : p >> (p >> 2 & 1)) % 2 != 0),
          pins[2],
          pins[3],
          low,
          pins[5]);
    }
    return builder.lut(TruthTable.of(pins.length, p -> (p >> (p >> data) & 1) != 0), pins);
  }
}

package dev.lengthwise.logic;

import java.util.Arrays;

/** Functions read from a table by multiplexers of LUTs: the fallback that always works. */
final class Mux {

  private Mux() {}

  /** Returns how many LUTs of K inputs (3 to 8) the plain construction takes for n inputs. */
  static int rom(int inputs, int mostFanIns) {
    return inputs <= mostFanIns
        ? Math.min(inputs, 1)
        : cost(inputs, select(inputs, mostFanIns), mostFanIns);
  }

  private static int cost(int inputs, int select, int mostFanIns) {
    return (1 << select) * rom(inputs - select, mostFanIns) + 1;
  }

  /** Returns how many selects the last multiplexer LUT takes: 1, or 2 if that costs no more. */
  private static int select(int inputs, int mostFanIns) {
    return mostFanIns >= 6 && cost(inputs, 2, mostFanIns) <= cost(inputs, 1, mostFanIns) ? 2 : 1;
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
    return builder.lut(TruthTable.of(pins.length, p -> (p >> (p >> data) & 1) != 0), pins);
  }
}

package dev.lengthwise.logic.network;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;

/** Connects the LUTs of a finished network to the inputs of a device: the latest to the fastest. */
public final class PinOrder {

  private PinOrder() {}

  /**
   * Returns the LUTs of a network with their fan-ins in the order of the device's inputs.
   *
   * @param network the network
   * @param delays what its signals take
   * @return the LUTs in their order; fan-in i of each is its input i, {@link LutNetwork#ZERO} at
   *     inputs that a LUT of few fan-ins passes over, as a faster one follows. The network's own
   *     where every input of a LUT takes as long
   */
  public static List<LutNetwork.Lut> of(LutNetwork network, DelayModel delays) {
    if (delays.fastest() == delays.level()) {
      return network.luts();
    }
    int[] times = delays.times(network);
    int[] readers = delays.readers(network);
    return network.luts().stream().map(lut -> ordered(lut, times, readers, delays)).toList();
  }

  private static LutNetwork.Lut ordered(
      LutNetwork.Lut lut, int[] times, int[] readers, DelayModel delays) {
    List<Integer> latestFirst = new ArrayList<>(lut.fanIns());
    latestFirst.sort(
        Comparator.comparingInt(signal -> -times[signal] - delays.spread(readers[signal])));
    int[] fastest = delays.fastestPins(latestFirst.size());
    int width = 1 + Arrays.stream(fastest).max().orElse(0);
    List<Integer> pins = new ArrayList<>(Collections.nCopies(width, LutNetwork.ZERO));
    for (int i = 0; i < fastest.length; i++) {
      pins.set(fastest[i], latestFirst.get(i));
    }
    int[] places =
        IntStream.range(0, width).map(pin -> lut.fanIns().indexOf(pins.get(pin))).toArray();
    return new LutNetwork.Lut(
        pins, TruthTable.of(width, point -> lut.table().isOn(unpinned(point, places))));
  }

  /** Returns the point of the fan-ins that belongs to a point of the inputs. */
  private static int unpinned(int point, int[] places) {
    int result = 0;
    for (int pin = 0; pin < places.length; pin++) {
      result |= places[pin] < 0 ? 0 : (point >> pin & 1) << places[pin];
    }
    return result;
  }
}

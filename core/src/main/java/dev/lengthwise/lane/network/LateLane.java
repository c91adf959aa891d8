package dev.lengthwise.lane.network;

import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/**
 * A lane that answers for every value of some modes at once, so that they can be applied behind it.
 * What does not depend on those modes is there once.
 *
 * @param network inputs as those of {@link LaneMapping}, the late modes not read; for each late
 *     word the bits of the length, word 0 first
 * @param roles the role of each LUT
 */
public record LateLane(LutNetwork network, List<LaneMapping.Role> roles) {

  /**
   * Copies the list.
   *
   * @param network see LateLane
   * @param roles see LateLane
   */
  public LateLane {
    roles = List.copyOf(roles);
  }

  /**
   * Makes modes late.
   *
   * @param mapping the lane
   * @param late the late modes by name; the first is bit 0 of a late word
   * @return the lane
   * @throws IllegalArgumentException if a mode is unknown
   */
  public static LateLane of(LaneMapping mapping, List<String> late) {
    LutNetwork lane = mapping.network();
    int inputs = lane.inputNames().size();
    int firstMode = 8 * mapping.shape().bytes();
    LutNetworkBuilder builder = LutNetwork.builder(lane.inputNames());
    List<Integer> sources = new ArrayList<>();
    for (int word = 0; word < 1 << late.size(); word++) {
      int[] signals = new int[inputs + lane.luts().size()];
      for (int i = 0; i < inputs; i++) {
        signals[i] = i;
      }
      for (int mode = 0; mode < late.size(); mode++) {
        int place = mapping.shape().modes().indexOf(late.get(mode));
        if (place < 0) {
          throw new IllegalArgumentException(
              "late lane: a mode of the lane is expected, found " + late.get(mode));
        }
        signals[firstMode + place] = (word >> mode & 1) == 0 ? LutNetwork.ZERO : LutNetwork.ONE;
      }
      for (int lut = 0; lut < lane.luts().size(); lut++) {
        int[] fanIns = lane.luts().get(lut).fanIns().stream().mapToInt(s -> signals[s]).toArray();
        int signal = builder.lut(lane.luts().get(lut).table(), fanIns);
        signals[inputs + lut] = signal;
        while (sources.size() < builder.signals() - inputs) {
          sources.add(lut);
        }
      }
      for (LutNetwork.Output output : lane.outputs()) {
        int signal = output.signal();
        builder.output("word_" + word + "_" + output.name(), signal < 0 ? signal : signals[signal]);
      }
    }
    LutNetwork network = builder.build();
    List<LaneMapping.Role> roles =
        new ArrayList<>(Collections.nCopies(network.luts().size(), null));
    for (int i = 0; i < sources.size(); i++) {
      int built = builder.builtSignal(inputs + i) - inputs;
      if (built >= 0) {
        roles.set(built, mapping.roles().get(sources.get(i)));
      }
    }
    return new LateLane(network, roles);
  }
}

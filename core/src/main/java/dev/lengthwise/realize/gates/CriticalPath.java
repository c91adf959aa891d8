package dev.lengthwise.realize.gates;

import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.realize.cost.PathStep;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** Finds a longest path of a network. */
public final class CriticalPath {

  private CriticalPath() {}

  /**
   * Returns the steps from an input to an output; named by the role of each LUT where it is known.
   */
  public static List<PathStep> of(LutNetwork network, LaneMapping mapping) {
    int inputs = network.inputNames().size();
    LutNetwork.Output end = null;
    for (LutNetwork.Output output : network.outputs()) {
      if (end == null || level(network, output.signal()) > level(network, end.signal())) {
        end = output;
      }
    }
    List<PathStep> steps = new ArrayList<>();
    steps.add(new PathStep("output " + end.name(), level(network, end.signal())));
    int signal = end.signal();
    while (signal >= inputs) {
      int lut = signal - inputs;
      steps.add(new PathStep(name(lut, mapping), network.level(signal)));
      int next = LutNetwork.ZERO;
      for (int fanIn : network.luts().get(lut).fanIns()) {
        if (next < 0 || level(network, fanIn) > level(network, next)) {
          next = fanIn;
        }
      }
      signal = next;
    }
    if (signal >= 0) {
      steps.add(new PathStep("input " + network.inputNames().get(signal), 0));
    }
    Collections.reverse(steps);
    return List.copyOf(steps);
  }

  private static int level(LutNetwork network, int signal) {
    return signal < 0 ? 0 : network.level(signal);
  }

  private static String name(int lut, LaneMapping mapping) {
    if (mapping == null) {
      return "LUT " + lut;
    }
    LaneMapping.Role role = mapping.roles().get(lut);
    return "LUT " + lut + ": " + role.block() + " at byte " + role.position() + ", " + role.what();
  }
}

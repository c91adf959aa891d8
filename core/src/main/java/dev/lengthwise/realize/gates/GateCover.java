package dev.lengthwise.realize.gates;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.gates.Restructuring;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.rewrite.LocalDontCares;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.work.Remembered;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;

/** Covers the gates of a circuit with LUTs, levels first, as a synthesizer would. */
public final class GateCover {

  /** A lane's gates are asked for as a whole, for its proof, and in each row of it. */
  private static final Remembered<Gates, LutNetwork> COVERS = new Remembered<>(32);

  private record Gates(LutNetwork gates, int lutInputs, DelayModel delays, boolean isMapping) {

    LutNetwork cover() {
      Restructuring restructuring =
          Restructuring.forInputs(lutInputs).withObjective(Objective.DEPTH).withDelays(delays);
      return isMapping
          ? restructuring.map(gates)
          : LocalDontCares.shrink(restructuring.withFactoring().map(gates), lutInputs);
    }
  }

  private GateCover() {}

  /** Returns the network of a circuit, cut at its state. */
  public static LutNetwork of(Circuit circuit, int lutInputs) {
    return covered(
        new Gates(FlatGates.of(circuit, lutInputs), lutInputs, DelayModel.LEVELS, false));
  }

  private static LutNetwork covered(Gates asked) {
    return COVERS.answer(asked, asked::cover);
  }

  /** Returns the network of a lane with its inputs in the order in which a shape counts them. */
  public static LutNetwork ofLane(Circuit circuit, LaneFunction shape, int lutInputs) {
    LutNetwork gates = FlatGates.of(circuit, lutInputs);
    return ordered(new Gates(gates, lutInputs, DelayModel.LEVELS, false), shape);
  }

  /** Covers the gates of a lane, and puts the inputs in the order of a shape. */
  private static LutNetwork ordered(Gates asked, LaneFunction shape) {
    List<String> names = new ArrayList<>();
    for (int bit = 0; bit < 8 * shape.bytes(); bit++) {
      names.add(LanePorts.CODE + "_" + bit);
    }
    names.addAll(shape.modes());
    LutNetworkBuilder builder = LutNetwork.builder(names);
    int[] places = places(asked.gates(), names);
    DelayModel delays = asked.delays().ofInputs(places);
    LutNetwork network =
        covered(new Gates(asked.gates(), asked.lutInputs(), delays, asked.isMapping()));
    int[] signals = builder.append(network, places);
    for (int bit = 0; bit < shape.lengthBits(); bit++) {
      builder.output(network.outputs().get(bit).name(), signals[bit]);
    }
    return builder.build();
  }

  private static int[] places(LutNetwork gates, List<String> names) {
    return gates.inputNames().stream()
        .mapToInt(names::indexOf)
        .map(place -> place < 0 ? LutNetwork.ZERO : place)
        .toArray();
  }

  /**
   * Returns the network of a lane as a mapping whose LUTs have no role but the lane's.
   *
   * @param delays what signals take, inputs in the order of the shape's
   */
  public static LaneMapping mapping(
      Circuit circuit, LaneFunction shape, int lutInputs, DelayModel delays) {
    LutNetwork gates = FlatGates.of(circuit, lutInputs);
    LutNetwork network = ordered(new Gates(gates, lutInputs, delays, true), shape);
    return LaneMapping.prove(
        shape,
        network,
        Collections.nCopies(
            network.luts().size(), new LaneMapping.Role("lane", 0, "gates of the banks")),
        List.of("no codes: the gates of the banked lane are restructured and covered"));
  }
}

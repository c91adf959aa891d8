package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.decompose.CutMapper;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Covers a lane's decision diagrams with LUTs: a start for any lane, whatever its maps. */
public final class DiagramCover {

  private DiagramCover() {}

  /** Returns a lane as LUTs that cover the multiplexers of its diagrams. */
  public static LaneMapping mapping(LaneFunction shape, int lutInputs) {
    LaneDiagram lane = new LaneDiagram(shape);
    List<String> names = new ArrayList<>();
    for (int bit = 0; bit < 8 * shape.bytes(); bit++) {
      names.add("code_" + bit);
    }
    names.addAll(shape.modes());
    int[] signals = new int[names.size()];
    for (int i = 0; i < signals.length; i++) {
      signals[lane.variableOf(i)] = i;
    }
    LutNetworkBuilder gates = LutNetwork.builder(names);
    Map<Integer, Integer> known = new HashMap<>();
    for (int bit = 0; bit < shape.lengthBits(); bit++) {
      gates.output(
          "length_" + bit,
          lane.diagrams().addMultiplexers(lane.bit(bit), signals, gates, known));
    }
    if (Boolean.getBoolean("tr")) System.err.println("nodes " + known.size());
    LutNetwork network = CutMapper.map(gates.build(), lutInputs);
    return LaneMapping.prove(
        shape,
        network,
        Collections.nCopies(
            network.luts().size(), new LaneMapping.Role("lane", 0, "decisions of the lane")),
        List.of("no codes: decision diagrams of the lane are covered with LUTs"));
  }
}

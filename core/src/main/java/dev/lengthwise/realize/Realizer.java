package dev.lengthwise.realize;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.predecode.LaneTable;
import dev.lengthwise.predecode.Predecoder;
import java.util.ArrayList;
import java.util.List;

/** Makes lanes into hardware. */
public final class Realizer {

  /** Creates a realizer. */
  public Realizer() {}

  /**
   * Makes a lane.
   *
   * @param lane what it handles
   * @param style what it is made of
   * @return the design
   */
  public Design realize(Predecoder lane, Style style) {
    return new Design(lane, style, rom(lane));
  }

  private static Circuit rom(Predecoder lane) {
    if (lane.mostFolded() == 0) {
      return new RomCore(lane, 0, lane.name()).build();
    }
    int unitBytes = lane.instructionSet().table().unit().bytes();
    List<Circuit> cores = new ArrayList<>();
    for (int prefixes = 0; prefixes <= lane.mostFolded(); prefixes++) {
      LaneTable table = LaneTable.of(lane, prefixes);
      if (table.bytesSeen() >= unitBytes && table.mostBytes() > 0) {
        cores.add(new RomCore(lane, prefixes, lane.name() + "_core" + prefixes).build());
      }
    }
    return new FoldedLane(lane, Style.ROM).build(cores);
  }
}

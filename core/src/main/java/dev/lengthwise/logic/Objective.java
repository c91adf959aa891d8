package dev.lengthwise.logic;

import java.util.Comparator;

/** What a mapper minimises first. */
public enum Objective {
  /** LUTs first, then levels. */
  AREA,
  /** Levels first, then LUTs. */
  DEPTH;

  /** Returns the order of networks, the best first. */
  Comparator<LutNetwork> order() {
    Comparator<LutNetwork> area = Comparator.comparingInt(network -> network.luts().size());
    Comparator<LutNetwork> depth = Comparator.comparingInt(LutNetwork::levels);
    return this == AREA ? area.thenComparing(depth) : depth.thenComparing(area);
  }
}

package dev.lengthwise.logic.network;

import dev.lengthwise.logic.Objective;
import java.util.Comparator;

/** The order in which a mapper prefers networks. */
public final class NetworkOrder {

  private static final Comparator<LutNetwork> AREA =
      Comparator.comparingInt(network -> network.luts().size());
  private static final Comparator<LutNetwork> DEPTH = Comparator.comparingInt(LutNetwork::levels);

  private NetworkOrder() {}

  /**
   * Returns the order under an objective, the best network first.
   *
   * @param objective what counts first
   * @return the order
   */
  public static Comparator<LutNetwork> of(Objective objective) {
    return switch (objective) {
      case AREA -> AREA.thenComparing(DEPTH);
      case DEPTH -> DEPTH.thenComparing(AREA);
    };
  }
}

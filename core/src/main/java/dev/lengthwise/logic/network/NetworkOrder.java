package dev.lengthwise.logic.network;

import dev.lengthwise.logic.Objective;
import java.util.Comparator;

/** The order in which a mapper prefers networks. */
public final class NetworkOrder {

  private static final Comparator<LutNetwork> AREA =
      Comparator.comparingInt(network -> network.luts().size());

  private NetworkOrder() {}

  /**
   * Returns the order under an objective, the best network first.
   *
   * @param objective what counts first
   * @param delays what depth is counted by
   * @return the order
   */
  public static Comparator<LutNetwork> of(Objective objective, DelayModel delays) {
    Comparator<LutNetwork> depth = Comparator.comparingInt(delays::delay);
    return switch (objective) {
      case AREA -> AREA.thenComparing(depth);
      case DEPTH -> depth.thenComparing(AREA);
    };
  }
}

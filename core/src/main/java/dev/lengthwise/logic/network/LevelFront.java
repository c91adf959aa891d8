package dev.lengthwise.logic.network;

import java.util.ArrayList;
import java.util.List;
import java.util.function.IntFunction;
import java.util.function.ToIntFunction;

/** Asks for fewer and fewer levels, and keeps what none has fewer LUTs and levels than. */
public final class LevelFront {

  private LevelFront() {}

  /**
   * Returns a front.
   *
   * @param smallest what has the fewest LUTs
   * @param mostLevels the levels of interest, at least 1
   * @param luts counts LUTs
   * @param levels counts levels
   * @param within returns what has the fewest LUTs found in a number of levels, at least 1; more
   *     levels say that none was found, and end the search
   * @param <T> what is made
   * @return the fewest LUTs first, each of fewer levels and more LUTs than the one before; the
   *     smallest alone if none is within the levels of interest
   */
  public static <T> List<T> of(
      T smallest,
      int mostLevels,
      ToIntFunction<T> luts,
      ToIntFunction<T> levels,
      IntFunction<T> within) {
    List<T> front = new ArrayList<>();
    T next = smallest;
    int bound = mostLevels;
    while (levels.applyAsInt(next) <= bound) {
      int most = luts.applyAsInt(next);
      front.removeIf(other -> luts.applyAsInt(other) >= most);
      front.add(next);
      bound = levels.applyAsInt(next) - 1;
      if (bound < 1) {
        break;
      }
      next = within.apply(bound);
    }
    return front.isEmpty() ? List.of(smallest) : List.copyOf(front);
  }
}

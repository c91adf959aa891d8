package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * What it would bring and cost to put rows back that a lane leaves to the slow path.
 *
 * <p>The LUTs are the difference of two estimates, of the lane with and without the rows. Mapping
 * is a search that does not end in the least, so a difference of a few LUTs, also below 0, says
 * little; and rows put back together may cost less than their sum, because they share logic.
 *
 * @param rows the rows, as the lane names them
 * @param regained the instructions that the lane would then handle, and does not now
 * @param share those in [0, 1] of all that were judged
 * @param luts the LUTs that the lane would have more
 */
public record LeftOutPrice(Predecoder.LeftOut rows, long regained, double share, int luts) {
  /**
   * Checks for null.
   *
   * @param rows see LeftOutPrice
   * @param regained see LeftOutPrice
   * @param share see LeftOutPrice
   * @param luts see LeftOutPrice
   */
  public LeftOutPrice {
    Objects.requireNonNull(rows, "rows");
  }

  /**
   * Prices each entry of a lane's left-out rows alone. Realises one lane more than there are
   * entries, which takes as long as the style takes.
   *
   * @param profile the stream
   * @param lane the lane
   * @param realizer realises the lanes
   * @param style what they are made of
   * @return one price for each entry, in the order of {@link Predecoder#leftOut()}
   * @throws IllegalArgumentException if the lane is of another instruction set than the profile
   */
  public static List<LeftOutPrice> of(
      AccuracyProfile profile, Predecoder lane, Realizer realizer, Style style) {
    long exact = profile.accuracy(lane).exact();
    int luts = realizer.realize(lane, style).unprovedTotal().luts();
    List<LeftOutPrice> prices = new ArrayList<>();
    for (int i = 0; i < lane.leftOut().size(); i++) {
      Predecoder wider = without(lane, i);
      Accuracy accuracy = profile.accuracy(wider);
      long regained = accuracy.exact() - exact;
      prices.add(
          new LeftOutPrice(
              lane.leftOut().get(i),
              regained,
              accuracy.executed() == 0 ? 0 : (double) regained / accuracy.executed(),
              realizer.realize(wider, style).unprovedTotal().luts() - luts));
    }
    return List.copyOf(prices);
  }

  private static Predecoder without(Predecoder lane, int index) {
    List<Predecoder.LeftOut> rows = new ArrayList<>(lane.leftOut());
    rows.remove(index);
    return new Predecoder(
        lane.name(),
        lane.instructionSet(),
        lane.lookahead(),
        lane.longest(),
        lane.depth(),
        lane.prefixes(),
        lane.undefinedRows(),
        rows);
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%s: %.3f%% regained for %d LUTs", rows, 100 * share, luts);
  }
}

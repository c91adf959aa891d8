package dev.lengthwise.logic.support;

import java.util.List;
import java.util.stream.Collectors;

/**
 * Which inputs some outputs need.
 *
 * @param inputs the number of inputs of the tables
 * @param each what stands in the way of dropping each input alone, input 0 first
 * @param minimum the sets of the fewest inputs that suffice, one bit an input, in ascending order
 * @param proved whether the sets are proved to be the smallest and to be all of them
 */
public record SupportReport(
    int inputs, List<SupportInput> each, List<Integer> minimum, boolean proved) {

  /**
   * Copies the lists.
   *
   * @param inputs the number of inputs of the tables
   * @param each what stands in the way of dropping each input alone, input 0 first
   * @param minimum the sets of the fewest inputs that suffice, one bit an input, in ascending order
   * @param proved whether the sets are proved to be the smallest and to be all of them
   */
  public SupportReport {
    each = List.copyOf(each);
    minimum = List.copyOf(minimum);
  }

  /**
   * Returns the inputs that every sufficient set has.
   *
   * @return one bit an input
   */
  public int essential() {
    return each.stream()
        .filter(input -> !input.removable())
        .mapToInt(input -> 1 << input.input())
        .sum();
  }

  /**
   * Returns the fewest number of inputs that suffice.
   *
   * @return in [0, inputs]
   */
  public int size() {
    return Integer.bitCount(minimum.get(0));
  }

  /** Returns a line an input, then the smallest sets in hex. */
  @Override
  public String toString() {
    return each.stream().map(SupportInput::toString).collect(Collectors.joining("\n"))
        + "\nsmallest sets of inputs: "
        + minimum.stream()
            .map(set -> "0x" + Integer.toHexString(set))
            .collect(Collectors.joining(", "));
  }
}

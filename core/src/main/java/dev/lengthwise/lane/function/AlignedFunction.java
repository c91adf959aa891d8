package dev.lengthwise.lane.function;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.TreeSet;
import java.util.stream.IntStream;

/**
 * A lane taken apart into where its operand specifier stands and what it says wherever that is.
 *
 * @param offsets the bytes at which a specifier may stand, ascending, at least two
 * @param place the lane that says which of them it is, as an index, wherever a specifier adds to
 *     the length; it may say anything elsewhere
 * @param aligned the lane with every specifier behind the last byte: byte {@code bytes()} of the
 *     lane and the one after it stand for the specifier's own bytes
 */
public record AlignedFunction(List<Integer> offsets, LaneFunction place, LaneFunction aligned) {

  /**
   * Copies the list.
   *
   * @param offsets see AlignedFunction
   * @param place see AlignedFunction
   * @param aligned see AlignedFunction
   */
  public AlignedFunction {
    offsets = List.copyOf(offsets);
  }

  /**
   * Takes a lane apart.
   *
   * @param shape the lane
   * @return its parts; empty if specifiers stand at one byte, or nowhere
   */
  public static Optional<AlignedFunction> of(LaneFunction shape) {
    TreeSet<Integer> offsets = new TreeSet<>();
    for (LaneFunction.CodeMap map : shape.codedMaps()) {
      if (map.outcomes().stream().anyMatch(AlignedFunction::isSpecified)) {
        offsets.add(map.specifierOffset());
      }
    }
    if (offsets.size() < 2) {
      return Optional.empty();
    }
    List<Integer> places = List.copyOf(offsets);
    List<LaneFunction.CodeMap> aligned = new ArrayList<>();
    LaneFunction.Builder place = LaneFunction.builder(List.of(), places.size() - 1);
    for (LaneFunction.CodeMap map : shape.codedMaps()) {
      aligned.add(
          new LaneFunction.CodeMap(map.name(), map.offset(), shape.bytes(), map.outcomes()));
      int index = places.indexOf(map.specifierOffset());
      place.map(
          new LaneFunction.CodeMap(
              map.name(),
              map.offset(),
              map.specifierOffset(),
              map.outcomes().stream().map(outcome -> placed(outcome, index)).toList()));
    }
    return Optional.of(new AlignedFunction(places, place.build(), shape.withMaps(aligned)));
  }

  private static boolean isSpecified(LaneFunction.Outcome outcome) {
    return outcome instanceof LaneFunction.Bytes row && row.specifier() >= 0;
  }

  private static LaneFunction.Outcome placed(LaneFunction.Outcome outcome, int index) {
    if (outcome instanceof LaneFunction.Escape) {
      return outcome;
    }
    return isSpecified(outcome)
        ? new LaneFunction.Bytes(List.of(index), -1)
        : new LaneFunction.Anything();
  }

  /**
   * Returns the inputs of a lane among which one of the aligned lane's is chosen.
   *
   * @param shape the lane
   * @param bit a bit of the two bytes behind the last, in [0, 16)
   * @return for each place the input; beyond the lane's bytes where that place's is not read
   */
  public int[] inputs(LaneFunction shape, int bit) {
    int bits = 8 * shape.bytes();
    return IntStream.range(0, offsets.size())
        .map(place -> 8 * offsets.get(place) + bit)
        .map(input -> Math.min(input, bits))
        .toArray();
  }
}

package dev.lengthwise.logic.support;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.OutputWords;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Symmetries of several outputs taken together.
 *
 * <p>With don't-cares, each pair alone may be symmetric while two pairs ask opposite values of the
 * same don't-care. The groups do not: one assignment of the don't-cares, given by {@code
 * completed}, makes all of them symmetric at once.
 *
 * @param pairs every pair that is symmetric by itself, in ascending order
 * @param groups disjoint sets of two or more inputs that may be permuted freely, one bit an input
 * @param completed the tables with the don't-cares that the groups fixed; the others remain
 */
public record SymmetryReport(
    List<SymmetryPair> pairs, List<Integer> groups, List<TruthTable> completed) {

  /**
   * Copies the lists.
   *
   * @param pairs every pair that is symmetric by itself, in ascending order
   * @param groups disjoint sets of two or more inputs that may be permuted freely, one bit an input
   * @param completed the tables with the don't-cares that the groups fixed; the others remain
   */
  public SymmetryReport {
    pairs = List.copyOf(pairs);
    groups = List.copyOf(groups);
    completed = List.copyOf(completed);
  }

  /**
   * Finds the symmetries.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs
   * @return the report
   * @throws IllegalArgumentException if there are no or too many tables or their inputs differ
   */
  public static SymmetryReport of(List<TruthTable> tables) {
    OutputWords spec = OutputWords.of(tables);
    List<SymmetryPair> pairs = new ArrayList<>();
    for (int first = 0; first < spec.inputs(); first++) {
      for (int second = first + 1; second < spec.inputs(); second++) {
        for (boolean inverted : new boolean[] {false, true}) {
          if (isSymmetric(spec, 1 << first, 1 << second, inverted)) {
            pairs.add(new SymmetryPair(first, second, inverted));
          }
        }
      }
    }
    List<Integer> groups = groups(spec);
    return new SymmetryReport(pairs, groups, complete(tables, groups));
  }

  private static boolean isSymmetric(OutputWords spec, int a, int b, boolean inverted) {
    for (int p = 0; p < spec.points(); p++) {
      if ((p & b) == 0 && ((p & a) == 0) == inverted) {
        int q = p ^ a ^ b;
        if ((spec.needed(p) & ~spec.allowed(q)) != 0 || (spec.needed(q) & ~spec.allowed(p)) != 0) {
          return false;
        }
      }
    }
    return true;
  }

  /** Grows each group from its lowest input; a later group respects the earlier ones. */
  private static List<Integer> groups(OutputWords spec) {
    List<Integer> groups = new ArrayList<>();
    int grouped = 0;
    for (int first = 0; first < spec.inputs(); first++) {
      if ((grouped >>> first & 1) != 0) {
        continue;
      }
      int group = 1 << first;
      for (int next = first + 1; next < spec.inputs(); next++) {
        if ((grouped >>> next & 1) == 0) {
          List<Integer> wider = new ArrayList<>(groups);
          wider.add(group | 1 << next);
          group |= isConsistent(spec, wider) ? 1 << next : 0;
        }
      }
      if (Integer.bitCount(group) > 1) {
        groups.add(group);
        grouped |= group;
      }
    }
    return groups;
  }

  private static boolean isConsistent(OutputWords spec, List<Integer> groups) {
    long[] needed = new long[spec.points()];
    long[] forbidden = new long[spec.points()];
    for (int p = 0; p < spec.points(); p++) {
      int same = representative(p, groups);
      needed[same] |= spec.needed(p);
      forbidden[same] |= ~spec.allowed(p);
      if ((needed[same] & forbidden[same]) != 0) {
        return false;
      }
    }
    return true;
  }

  private static List<TruthTable> complete(List<TruthTable> tables, List<Integer> groups) {
    List<TruthTable> completed = new ArrayList<>();
    for (TruthTable table : tables) {
      int[] seen = new int[1 << table.inputs()];
      for (int p = 0; p < seen.length; p++) {
        if (table.isCare(p)) {
          seen[representative(p, groups)] = table.isOn(p) ? 2 : 1;
        }
      }
      completed.add(
          TruthTable.of(
              table.inputs(),
              p -> seen[representative(p, groups)] == 2,
              p -> seen[representative(p, groups)] != 0));
    }
    return completed;
  }

  /** Returns the pairs and the groups, in a line each. */
  @Override
  public String toString() {
    return "alike: "
        + joined(pairs.stream().map(SymmetryPair::toString))
        + "\nmay be permuted freely: "
        + joined(groups.stream().map(group -> "0x" + Integer.toHexString(group)));
  }

  private static String joined(Stream<String> parts) {
    String text = parts.collect(Collectors.joining(", "));
    return text.isEmpty() ? "none" : text;
  }

  /** Returns the point with the ones of each group moved to the group's lowest inputs. */
  private static int representative(int point, List<Integer> groups) {
    int result = point;
    for (int group : groups) {
      int ones = Integer.bitCount(point & group);
      result = (result & ~group) | SupportReducer.scatter((1 << ones) - 1, group);
    }
    return result;
  }
}

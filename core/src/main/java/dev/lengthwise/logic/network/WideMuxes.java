package dev.lengthwise.logic.network;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * The LUTs of a network that dedicated multiplexers behind neighbouring LUTs can stand in for.
 *
 * <p>Two neighbouring LUTs meet in one two-way multiplexer, two such pairs in one more. So a LUT
 * that only chooses between two, or among four, LUTs that nothing else reads takes no site, but one
 * multiplexer, or three. Common practice, no source. Immutable.
 */
public final class WideMuxes {

  private final Map<Integer, List<Integer>> chosen;
  private final Set<Integer> feeding = new HashSet<>();

  private WideMuxes(Map<Integer, List<Integer>> chosen) {
    this.chosen = chosen;
    chosen.values().forEach(feeding::addAll);
  }

  /**
   * Returns no multiplexers, for devices that have none.
   *
   * @return an empty plan
   */
  public static WideMuxes none() {
    return new WideMuxes(Map.of());
  }

  /**
   * Finds the multiplexers of a network.
   *
   * @param network the network
   * @return the plan
   */
  public static WideMuxes in(LutNetwork network) {
    int inputs = network.inputNames().size();
    int[] readers = new int[inputs + network.luts().size()];
    network
        .luts()
        .forEach(lut -> lut.fanIns().stream().filter(s -> s >= 0).forEach(s -> readers[s]++));
    network.outputs().stream().filter(o -> o.signal() >= 0).forEach(o -> readers[o.signal()]++);
    Map<Integer, List<Integer>> chosen = new LinkedHashMap<>();
    for (int i = 0; i < network.luts().size(); i++) {
      List<Integer> luts = new ArrayList<>();
      for (int input : dataInputs(network.luts().get(i).table())) {
        int signal = network.luts().get(i).fanIns().get(input);
        int lut = signal - inputs;
        if (lut >= 0 && readers[signal] == 1 && !chosen.containsKey(lut)) {
          luts.add(lut);
        }
      }
      if (luts.size() == 2 && network.luts().get(i).fanIns().size() == 3
          || luts.size() == 4 && network.luts().get(i).fanIns().size() == 6) {
        chosen.put(i, List.copyOf(luts));
      }
    }
    return new WideMuxes(chosen);
  }

  /** Returns the inputs that a two-way or four-way multiplexer chooses from, or none. */
  private static List<Integer> dataInputs(TruthTable table) {
    int selects = table.inputs() == 3 ? 1 : table.inputs() == 6 ? 2 : 0;
    for (int first = 0; selects > 0 && first < table.inputs(); first++) {
      for (int second = selects == 1 ? first : first + 1; second < table.inputs(); second++) {
        List<Integer> found = dataInputs(table, first, second);
        if (found.size() == 1 << selects) {
          return found;
        }
        if (selects == 1) {
          break;
        }
      }
    }
    return List.of();
  }

  private static List<Integer> dataInputs(TruthTable table, int first, int second) {
    Set<Integer> found = new HashSet<>();
    List<Integer> ordered = new ArrayList<>();
    for (int way = 0; way < (first == second ? 2 : 4); way++) {
      int fixed = (way & 1) << first | (first == second ? 0 : (way >> 1) << second);
      int mask = 1 << first | 1 << second;
      for (int input = 0; input < table.inputs(); input++) {
        if ((mask >> input & 1) == 0 && isInput(table, mask, fixed, input) && found.add(input)) {
          ordered.add(input);
        }
      }
    }
    return ordered;
  }

  /** Tells whether the table equals an input wherever the selecting inputs have given values. */
  private static boolean isInput(TruthTable table, int mask, int fixed, int input) {
    for (int point = 0; point < 1 << table.inputs(); point++) {
      if ((point & mask) == fixed && table.isOn(point) != ((point >> input & 1) != 0)) {
        return false;
      }
    }
    return true;
  }

  /**
   * Tells whether multiplexers stand in for a LUT.
   *
   * @param lut its index
   * @return true if it takes no site
   */
  public boolean replaces(int lut) {
    return chosen.containsKey(lut);
  }

  /**
   * Tells whether a LUT feeds a multiplexer, so that its site serves no second function.
   *
   * @param lut its index
   * @return true if it does
   */
  public boolean isFedBy(int lut) {
    return feeding.contains(lut);
  }

  /**
   * Returns the two-way multiplexers.
   *
   * @return their number: one for each pair of LUTs and one for each pair of pairs
   */
  public int count() {
    return chosen.values().stream().mapToInt(data -> data.size() - 1).sum();
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof WideMuxes that && chosen.equals(that.chosen);
  }

  @Override
  public int hashCode() {
    return chosen.hashCode();
  }

  @Override
  public String toString() {
    return count() + " wide multiplexers for " + chosen.size() + " luts";
  }
}

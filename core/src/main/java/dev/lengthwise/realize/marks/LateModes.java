package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The modes of a lane array that are applied behind the lanes, and what prefixes do to them.
 *
 * <p>Late mode i is bit i of a <em>late word</em>; a lane answers for every late word. What a byte
 * is as a prefix goes to the marks as <em>prefix bits</em>: bit 0 says that it is one, each further
 * bit that it is one of those that have some effect on a late mode. Effects that the same prefixes
 * have share their bit, and those that all prefixes have are told by bit 0, as registers behind
 * equal bits would only be held twice.
 */
public final class LateModes {

  private final LaneArray array;
  private final List<String> names;
  private final List<Effect> effects = new ArrayList<>();

  /** The prefixes that each prefix bit tells. */
  private final List<List<PrefixRules.Prefix>> told = new ArrayList<>();

  /** An effect that those prefixes have on a late mode that a prefix bit tells. */
  private record Effect(int mode, PrefixRules.Effect kind, int bit) {}

  public LateModes(LaneArray array) {
    this.array = array;
    List<String> all = array.lane().instructionSet().table().modes();
    this.names =
        all.stream().filter(mode -> (array.lateModes() >> all.indexOf(mode) & 1) != 0).toList();
    told.add(array.itemPrefixes());
    for (int mode = 0; mode < names.size(); mode++) {
      for (PrefixRules.Effect kind : PrefixRules.Effect.values()) {
        List<PrefixRules.Prefix> having = having(mode, kind);
        if (!having.isEmpty()) {
          if (!told.contains(having)) {
            told.add(having);
          }
          effects.add(new Effect(mode, kind, told.indexOf(having)));
        }
      }
    }
  }

  private List<PrefixRules.Prefix> having(int mode, PrefixRules.Effect kind) {
    return array.itemPrefixes().stream()
        .filter(p -> p.effects().get(names.get(mode)) == kind)
        .toList();
  }

  /** Returns the names, late mode 0 first. */
  public List<String> names() {
    return names;
  }

  /** Returns the number of late modes. */
  public int count() {
    return names.size();
  }

  /** Returns the number of late words. */
  public int words() {
    return 1 << names.size();
  }

  /** Returns the number of prefix bits; 0 if there is no late mode. */
  public int prefixBits() {
    return names.isEmpty() ? 0 : told.size();
  }

  /** Returns the values that a late word gives to the late modes. */
  public Map<String, Boolean> values(int word) {
    Map<String, Boolean> values = new LinkedHashMap<>();
    for (int i = 0; i < names.size(); i++) {
      values.put(names.get(i), (word >> i & 1) != 0);
    }
    return values;
  }

  /** Adds the logic of the prefix bits of a code unit. */
  public Signal prefixBits(CircuitBuilder circuit, Signal unit) {
    return circuit.concat(told.stream().map(some -> anyOf(circuit, some, unit)).toList());
  }

  private static Signal anyOf(
      CircuitBuilder circuit, List<PrefixRules.Prefix> prefixes, Signal unit) {
    return circuit.or(prefixes.stream().map(p -> circuit.equal(unit, p.code())).toList());
  }

  /**
   * Adds the logic of the late word behind an item.
   *
   * @param prefix the prefix bits of the item's first code unit
   * @param before the late word at the item
   * @param initial the late word before any prefix
   */
  Signal behind(CircuitBuilder circuit, Signal prefix, Signal before, Signal initial) {
    List<Signal> after = new ArrayList<>();
    for (int mode = 0; mode < names.size(); mode++) {
      Signal value = circuit.bit(before, mode);
      for (Effect effect : effects) {
        if (effect.mode() == mode) {
          Signal first = circuit.bit(initial, mode);
          value =
              effect.bit() == 0
                  ? behindAny(circuit, effect.kind(), first)
                  : behindSome(
                      circuit, effect.kind(), circuit.bit(prefix, effect.bit()), value, first);
          if (effect.kind() == PrefixRules.Effect.FLIP) {
            circuit.suggested(value, names.get(mode) + "_behind_prefix");
          }
        }
      }
      after.add(value);
    }
    return circuit.suggested(
        circuit.mux(circuit.bit(prefix, 0), circuit.concat(after), initial), "word_behind");
  }

  /** Returns a mode behind any prefix, if all have the effect. */
  private static Signal behindAny(CircuitBuilder circuit, PrefixRules.Effect kind, Signal initial) {
    return switch (kind) {
      case FLIP -> circuit.not(initial);
      case SET -> circuit.constant(1, 1);
      case CLEAR -> circuit.constant(0, 1);
    };
  }

  /** Returns a mode behind a prefix that may have the effect. */
  private static Signal behindSome(
      CircuitBuilder circuit, PrefixRules.Effect kind, Signal has, Signal before, Signal initial) {
    return switch (kind) {
      case FLIP -> circuit.mux(has, circuit.not(initial), before);
      case SET -> circuit.or(List.of(has, before));
      case CLEAR -> circuit.and(List.of(circuit.not(has), before));
    };
  }
}

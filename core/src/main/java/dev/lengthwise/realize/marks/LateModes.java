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
 * bit that it has one effect on one late mode.
 */
public final class LateModes {

  private final LaneArray array;
  private final List<String> names;
  private final List<Effect> effects = new ArrayList<>();

  /** An effect that some prefix has on a late mode. */
  private record Effect(int mode, PrefixRules.Effect kind) {}

  public LateModes(LaneArray array) {
    this.array = array;
    List<String> all = array.lane().instructionSet().table().modes();
    this.names =
        all.stream().filter(mode -> (array.lateModes() >> all.indexOf(mode) & 1) != 0).toList();
    for (int mode = 0; mode < names.size(); mode++) {
      for (PrefixRules.Effect kind : PrefixRules.Effect.values()) {
        if (!having(new Effect(mode, kind)).isEmpty()) {
          effects.add(new Effect(mode, kind));
        }
      }
    }
  }

  private List<PrefixRules.Prefix> having(Effect effect) {
    return array.itemPrefixes().stream()
        .filter(p -> p.effects().get(names.get(effect.mode())) == effect.kind())
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
    return names.isEmpty() ? 0 : 1 + effects.size();
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
    List<Signal> bits = new ArrayList<>();
    bits.add(anyOf(circuit, array.itemPrefixes(), unit));
    effects.forEach(effect -> bits.add(anyOf(circuit, having(effect), unit)));
    return circuit.concat(bits);
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
      for (int i = 0; i < effects.size(); i++) {
        if (effects.get(i).mode() == mode) {
          Signal has = circuit.bit(prefix, 1 + i);
          value =
              switch (effects.get(i).kind()) {
                case FLIP ->
                    circuit.suggested(
                        circuit.mux(has, circuit.not(circuit.bit(initial, mode)), value),
                        names.get(mode) + "_behind_prefix");
                case SET -> circuit.or(List.of(has, value));
                case CLEAR -> circuit.and(List.of(circuit.not(has), value));
              };
        }
      }
      after.add(value);
    }
    return circuit.suggested(
        circuit.mux(circuit.bit(prefix, 0), circuit.concat(after), initial), "word_behind");
  }
}

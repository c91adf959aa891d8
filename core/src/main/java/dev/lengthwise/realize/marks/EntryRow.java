package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.realize.marks.Stages.Value;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What one entry makes of a stretch of bytes: a word of which some bits are known when the hardware
 * is made.
 *
 * @param pattern for each bit, bit 0 first, {@code 0}, {@code 1}, or {@code -} if it is computed
 * @param computed the bits that are computed, side by side; null if there is none
 */
record EntryRow(String pattern, @Nullable Value computed) {

  /** Returns a row that is known. */
  static EntryRow known(String pattern) {
    return new EntryRow(pattern, null);
  }

  /** Returns a row of which every bit is computed. */
  static EntryRow of(Value word) {
    return new EntryRow("-".repeat(word.signal().width()), word);
  }

  boolean isKnown() {
    return computed == null;
  }

  /** Returns the row as a later cycle finds it. */
  EntryRow at(Stages stages, int cycle) {
    return computed == null
        ? this
        : new EntryRow(pattern, Value.of(computed.name(), stages.at(computed, cycle), cycle));
  }

  /** Returns some bits of the row, whose registers have a name of their own. */
  EntryRow slice(CircuitBuilder circuit, String name, int low, int width) {
    String part = pattern.substring(low, low + width);
    int before = count(pattern.substring(0, low));
    int inside = count(part);
    return inside == 0
        ? known(part)
        : new EntryRow(
            part,
            Value.of(
                computed.name() + "_" + name,
                circuit.slice(computed.signal(), before, inside),
                computed.cycle()));
  }

  /** Returns this row with further bits above it, of the same cycle. */
  EntryRow with(CircuitBuilder circuit, EntryRow above) {
    String both = pattern + above.pattern;
    if (computed == null || above.computed == null) {
      return new EntryRow(both, computed == null ? above.computed : computed);
    }
    Signal bits = circuit.concat(List.of(computed.signal(), above.computed.signal()));
    return new EntryRow(both, Value.of(computed.name(), bits, computed.cycle()));
  }

  private static int count(String pattern) {
    return (int) pattern.chars().filter(bit -> bit == '-').count();
  }

  /** Writes a word of which some bits are known. */
  static Signal word(CircuitBuilder circuit, String pattern, @Nullable Signal computed) {
    List<Signal> parts = new ArrayList<>();
    int taken = 0;
    for (int from = 0; from < pattern.length(); ) {
      boolean known = pattern.charAt(from) != '-';
      int to = from + 1;
      while (to < pattern.length() && pattern.charAt(to) != '-' == known) {
        to++;
      }
      if (known) {
        parts.add(constant(circuit, pattern.substring(from, to)));
      } else {
        parts.add(circuit.slice(computed, taken, to - from));
        taken += to - from;
      }
      from = to;
    }
    return circuit.concat(parts);
  }

  /** Writes a word all of whose bits are known. */
  static Signal constant(CircuitBuilder circuit, String pattern) {
    long value = 0;
    for (int bit = 0; bit < pattern.length(); bit++) {
      value |= pattern.charAt(bit) == '1' ? 1L << bit : 0;
    }
    return circuit.constant(value, pattern.length());
  }

  /** Writes the bits of a word that a pattern says are computed; null if there is none. */
  static @Nullable Signal computed(CircuitBuilder circuit, String pattern, Signal word) {
    List<Signal> parts = new ArrayList<>();
    for (int from = 0; from < pattern.length(); ) {
      int to = from;
      while (to < pattern.length() && pattern.charAt(to) == '-') {
        to++;
      }
      if (to > from) {
        parts.add(circuit.slice(word, from, to - from));
      }
      from = to + 1;
    }
    return parts.isEmpty() ? null : circuit.concat(parts);
  }
}

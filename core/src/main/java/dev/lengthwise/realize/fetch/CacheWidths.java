package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;

/**
 * The widths of a cache's signals, in bits. A field that would be empty is one bit wide and 0: a
 * cache of one set has RAMs of two rows.
 *
 * @param unit the fetch unit
 * @param stored what the lanes say, stored beside a window
 */
record CacheWidths(FetchUnit unit, int stored) {

  private CacheGeometry geometry() {
    return unit.cache().geometry();
  }

  int ways() {
    return geometry().ways();
  }

  int way() {
    return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(ways() - 1));
  }

  int number() {
    return unit.windowNumberBits();
  }

  int tag() {
    return geometry().tag().width();
  }

  int index() {
    return Math.max(1, geometry().index().width());
  }

  /** The bits that choose the window of a line; may be 0. */
  int window() {
    return Integer.numberOfTrailingZeros(geometry().lineWindows());
  }

  int windows() {
    return geometry().lineWindows();
  }

  /** The bits of a line's number. */
  int line() {
    return number() - window();
  }

  int place() {
    return window() + index();
  }

  int word() {
    return 8 * geometry().windowBytes() + stored;
  }

  Signal index(CircuitBuilder circuit, Signal number) {
    return geometry().index().width() == 0
        ? circuit.constant(0, 1)
        : circuit.slice(number, number.width() - tag() - index(), index());
  }

  Signal tag(CircuitBuilder circuit, Signal number) {
    return circuit.slice(number, number.width() - tag(), tag());
  }

  /** The place of a window in the data RAM. */
  Signal place(CircuitBuilder circuit, Signal number) {
    int bits = window() + geometry().index().width();
    return bits == 0
        ? circuit.constant(0, 1)
        : circuit.extend(circuit.slice(number, 0, bits), place());
  }
}

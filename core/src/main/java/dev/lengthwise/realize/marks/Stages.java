package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import java.util.OptionalLong;

/** The cycles of a pipeline: values that wait for the cycle in which they are read. */
final class Stages {

  private final CircuitBuilder circuit;
  private final Signal running;
  private final Map<Signal, Map<Integer, Signal>> delayed = new HashMap<>();

  /**
   * What a window's way through the pipeline computes.
   *
   * @param name the beginning of its registers' names
   * @param signal the value
   * @param cycle the cycle in which it is there, 0 being that of the inputs
   * @param reset what its registers hold after reset; empty if nothing reads them then
   */
  record Value(String name, Signal signal, int cycle, OptionalLong reset) {

    static Value of(String name, Signal signal, int cycle) {
      return new Value(name, signal, cycle, OptionalLong.empty());
    }

    static Value of(String name, Signal signal, int cycle, long reset) {
      return new Value(name, signal, cycle, OptionalLong.of(reset));
    }
  }

  /**
   * Creates a pipeline.
   *
   * @param running 1 in the cycles in which every register takes a value
   */
  Stages(CircuitBuilder circuit, Signal running) {
    this.circuit = circuit;
    this.running = running;
  }

  /** Returns a value as a later cycle finds it, behind as many registers as it has to wait. */
  Signal at(Value value, int cycle) {
    if (cycle < value.cycle()) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "pipeline: %s must be there by cycle %d, found %d",
              value.name(),
              cycle,
              value.cycle()));
    }
    if (cycle == value.cycle()) {
      return value.signal();
    }
    Map<Integer, Signal> known = delayed.computeIfAbsent(value.signal(), signal -> new HashMap<>());
    Signal there = known.get(cycle);
    if (there == null) {
      Signal before = at(value, cycle - 1);
      String name = value.name() + "_in_cycle_" + cycle;
      there = register(name, before.width(), value.reset());
      known.put(cycle, there);
      circuit.drive(there, before, running);
    }
    return there;
  }

  /** Adds a register that holds in one cycle what the cycle before computes. */
  Signal register(String name, int width, OptionalLong reset) {
    return reset.isPresent()
        ? circuit.register(name, width, reset.getAsLong())
        : circuit.dataRegister(name, width);
  }

  /** Connects a register of its own. */
  void drive(Signal register, Signal next) {
    circuit.drive(register, next, running);
  }
}

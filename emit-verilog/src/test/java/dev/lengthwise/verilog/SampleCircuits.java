package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.IntStream;

/** Hand-written circuits that, together, use every kind of node. */
final class SampleCircuits {

  /** What a hostile user may write wherever text is allowed. */
  static final String HOSTILE =
      "*/ endmodule `define x\n"
          + "module evil; // verilator lint_off\r\n"
          + "`include \"/etc/passwd\"\u2028-- translate_off\n\n"
          + "verilator lint_off WIDTH\n"
          + "pragma translate_off\n"
          + "synthesis translate_off caf\u00e9 \u0000\u001b[2J \ud83d\ude00 end with \\\n"
          + "word ".repeat(60)
          + "x".repeat(300)
          + " \\";

  private SampleCircuits() {}

  /** Every combinational kind, inlined and not. */
  static Circuit logic() {
    CircuitBuilder c = Circuit.named("sample_logic", "Every combinational operation once.");
    Signal code = c.input("code", 8, "first byte");
    Signal next = c.input("second", 8, "second byte");
    Signal wide = c.input("wide", 1, "wide operands");
    Signal row = c.input("row", 3, "row of the table");
    c.section("Classes of the first byte");
    Signal prefix = c.named(c.or(List.of(c.equal(code, 0xf0), c.equal(code, 0xf1))), "is_prefix");
    c.comment(prefix, "a prefix flips the width");
    Signal both = c.and(List.of(code, c.not(next), c.xor(List.of(code, next))));
    c.output("prefix", prefix, "a prefix");
    c.output("both", both, "mixture");
    c.output("parity", c.reduce(Node.Operation.XOR, c.not(code)), "odd number of zeros");
    c.output("every_bit", c.reduce(Node.Operation.AND, c.or(List.of(code, next))), "all ones");
    c.output("any", c.reduce(Node.Operation.OR, c.slice(code, 2, 3)), "any of three");
    Signal sum = c.add(code, next, 9);
    c.output("total", sum, "sum");
    c.output("total_high", c.slice(sum, 4, 5), "its high bits");
    c.output("minus", c.subtract(c.slice(code, 0, 3), row, 5), "difference");
    c.output("smaller", c.lessThan(code, c.subtract(next, c.constant(3, 8), 8)), "order");
    c.output("never", c.lessThan(code, c.constant(0, 8)), "never true");
    c.section("Choices");
    c.output("two", c.mux(wide, code, next), "one of two");
    c.output("three", c.select(c.slice(row, 0, 2), List.of(code, next, both)), "one of three");
    List<Signal> six = IntStream.range(0, 6).mapToObj(i -> c.slice(code, i / 2, 4)).toList();
    c.output("six", c.select(row, six), "one of six, the last for 6 and 7");
    Signal two = c.slice(row, 0, 2);
    c.output("start_alike", c.select(row, List.of(code, code, code, next)), "0 to 2 alike");
    c.output("inside_alike", c.select(two, List.of(next, code, code, next)), "1 and 2 alike");
    c.output("end_alike", c.select(two, List.of(next, code, code)), "1 and more alike");
    c.output("all_alike", c.select(two, List.of(code, code, code)), "no choice");
    c.output("fixed", c.select(c.constant(5, 3), six), "a choice by a constant");
    Signal mixed = c.concat(List.of(wide, wide, wide, code, c.not(wide), c.constant(5, 3)));
    c.output("mixed", mixed, "bits side by side");
    c.output("piece", c.slice(c.concat(List.of(code, next)), 6, 4), "across a seam");
    c.output("inner", c.bit(c.slice(c.concat(List.of(code, next)), 8, 5), 2), "a bit of a slice");
    Signal zero = c.named(c.constant(0x2a, 8), "answer");
    c.output("answer_out", c.xor(List.of(zero, code)), "a named constant");
    c.output(
        "lines", c.or(IntStream.range(0, 24).mapToObj(i -> c.equal(code, 9L * i)).toList()), "");
    return c.build();
  }

  /** Lookups of all sizes and LUTs. */
  static Circuit lookups() {
    CircuitBuilder c = Circuit.named("sample_lookups", "Tables and LUTs.");
    Signal code = c.input("code", 8, "address");
    Signal more = c.input("more", 4, "more bits");
    c.output(
        "length",
        c.lookup(code, Contents.of(4, IntStream.range(0, 256).mapToLong(i -> i * 7 % 5).toArray())),
        "a word");
    c.output(
        "flag",
        c.lookup(
            c.slice(code, 1, 5),
            Contents.of(1, IntStream.range(0, 32).mapToLong(i -> i % 3 & 1).toArray())),
        "a bit");
    c.output(
        "big_flag",
        c.lookup(code, Contents.of(1, IntStream.range(0, 256).mapToLong(i -> i % 7 & 1).toArray())),
        "a bit of a large table");
    c.output(
        "same",
        c.lookup(more, Contents.of(3, new long[] {5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5, 5})),
        "5");
    c.output("at_constant", c.lookup(c.constant(2, 2), Contents.of(3, 1, 2, 7, 4)), "7");
    c.output(
        "exclusive",
        c.lookup(
            c.xor(List.of(more, c.slice(code, 0, 4))),
            Contents.of(64, IntStream.range(0, 16).mapToLong(i -> -1L >>> i).toArray())),
        "wide words");
    Signal low =
        c.lut(
            List.of(c.bit(code, 0), c.bit(code, 3), c.bit(more, 0)),
            Contents.of(1, 0, 1, 1, 0, 1, 0, 0, 1));
    Signal high =
        c.lut(
            List.of(
                low, c.bit(code, 7), c.bit(more, 1), c.bit(more, 2), low, c.not(c.bit(more, 3))),
            Contents.of(
                1, IntStream.range(0, 64).mapToLong(i -> Integer.bitCount(i * 5) & 1).toArray()));
    c.output("low", low, "a LUT of three inputs");
    c.output("high", high, "a LUT of six inputs");
    c.output("inverted", c.lut(List.of(high), Contents.of(1, 1, 0)), "a LUT of one input");
    return c.build();
  }

  /** Registers, both kinds of memory, lanes and instances. */
  static Circuit clocked(Reset reset) {
    Circuit counter = counter(reset);
    CircuitBuilder c =
        Circuit.named("sample_" + reset.name().toLowerCase(Locale.ROOT), "State.").reset(reset);
    Signal data = c.input("data", 16, "word to write");
    Signal address = c.input("address", 4, "where");
    Signal write = c.input("write", 2, "one bit a lane");
    Signal read = c.input("read", 1, "read enable");
    Memory block = c.memory(new Memory("words", Memory.Kind.BLOCK, 16, 16, 2));
    Memory spread = c.memory(new Memory("tags", Memory.Kind.DISTRIBUTED, 8, 5, 1));
    c.write(block, write, address, data);
    c.write(
        spread, c.and(List.of(c.bit(write, 0), read)), c.slice(address, 1, 3), c.slice(data, 3, 5));
    Signal word = c.read(block, c.not(address), read); // not that which is written
    Signal always = c.read(block, c.add(address, c.constant(1, 4), 4));
    Signal tag = c.read(spread, c.slice(address, 0, 3));
    c.output("word", word, "read on demand");
    c.output("other", c.xor(List.of(always, c.extend(tag, 16))), "read always");
    Signal history = c.register("history", 5, 0x15);
    c.comment(history, "the last tag");
    c.drive(history, tag, read);
    c.output("history", history, "a register behind a port of its name");
    Signal toggle = c.register("toggle", 1, 1);
    c.drive(toggle, c.not(toggle));
    c.output("toggle_out", toggle, "changes in every cycle");
    Map<String, Signal> a =
        c.instance(
            "first", counter, Map.of("step", c.slice(data, 0, 4), "go", toggle, "spare", read));
    Map<String, Signal> b =
        c.instance(
            "second",
            counter,
            Map.of("step", a.get("count"), "go", c.and(List.of(read, toggle)), "spare", read));
    c.output("count", b.get("count"), "what the second counts");
    c.output("over", c.or(List.of(a.get("over"), c.bit(word, 3))), "overflow");
    return c.build();
  }

  private static Circuit counter(Reset reset) {
    CircuitBuilder c = Circuit.named("sample_counter", "Counts.").reset(reset);
    Signal step = c.input("step", 4, "how far");
    Signal go = c.input("go", 1, "count in this cycle");
    c.input("spare", 1, "read by nothing");
    Signal count = c.register("count", 4, 3);
    Signal sum = c.add(count, step, 5);
    c.drive(count, c.slice(sum, 0, 4), go);
    c.output("count", count, "the count");
    c.output("over", c.bit(sum, 4), "overflow");
    return c.build();
  }

  /** Inputs, bits, registers, a clock and a reset that nothing reads. */
  static Circuit partlyUnused() {
    CircuitBuilder inner = Circuit.named("sample_dead_state", "State that no output depends on.");
    Signal value = inner.input("value", 8, "only two bits count");
    Signal dead = inner.register("dead", 8, 0);
    inner.drive(dead, value);
    inner.output("twin", inner.slice(value, 3, 2), "two bits");
    inner.output("rest", inner.bit(value, 7), "one bit");
    Circuit block = inner.build();
    CircuitBuilder c = Circuit.named("sample_unused", "Much of it is not used.");
    Signal data = c.input("data", 12, "some bits are read");
    c.input("nothing", 3, "not read at all");
    Signal sum = c.named(c.add(c.slice(data, 0, 4), c.slice(data, 5, 4), 6), "sum");
    Map<String, Signal> outputs =
        c.instance("inner_block", block, Map.of("value", c.slice(data, 2, 8)));
    c.output("high", c.bit(sum, 5), "one bit of the sum");
    c.output("twin", outputs.get("twin"), "of the block inside");
    c.named(c.not(data), "never_read");
    return c.build();
  }

  /** Hostile text in every place that takes text. */
  static Circuit hostile() {
    CircuitBuilder c = Circuit.named("sample_hostile", HOSTILE);
    c.fact(HOSTILE, HOSTILE).fact("verilator lint_off", "synthesis translate_off").fact("", "");
    Signal a = c.input("verilator", 2, HOSTILE);
    Signal b = c.input("pragma", 2, "");
    c.section(HOSTILE);
    Signal x = c.comment(c.and(List.of(a, b)), HOSTILE);
    Signal state = c.comment(c.register("state", 2, 0), HOSTILE);
    c.drive(state, x);
    c.output("out_value", c.comment(c.mux(c.bit(state, 0), x, a), "verilator lint_off"), HOSTILE);
    c.section("synopsys translate_off");
    c.output("done", c.comment(c.reduce(Node.Operation.AND, x), "\\"), "\n\n");
    return c.build();
  }

  /**
   * Instances that wish to be called as a port, a signal and a name of text inside their blocks.
   */
  static Circuit instancesCalledAsTheirInsides() {
    CircuitBuilder inner = Circuit.named("sample_inside", "");
    Signal in = inner.input("port_inside", 8, "");
    Signal signal = inner.named(inner.not(in), "signal_inside");
    Signal both = inner.concat(List.of(signal, in));
    Signal word =
        inner.named(
            inner.lookup(
                inner.slice(both, 4, 8),
                Contents.of(4, IntStream.range(0, 256).mapToLong(i -> i % 11).toArray())),
            "word");
    inner.output("out_inside", inner.concat(List.of(signal, word)), "");
    Circuit block = inner.build();
    CircuitBuilder c = Circuit.named("sample_outside", "");
    Signal value = c.input("word_table", 8, "");
    for (String name : List.of("port_inside", "signal_inside", "out_inside", "address", "found")) {
      Map<String, Signal> outputs = c.instance(name, block, Map.of("port_inside", value));
      c.output(name + "_of", outputs.get("out_inside"), "");
    }
    return c.build();
  }
}

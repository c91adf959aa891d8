package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.RandomCircuits;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.IntUnaryOperator;
import java.util.stream.IntStream;

/** Circuits written by hand, each for one part of the language. */
final class SampleCircuits {

  private SampleCircuits() {}

  static List<Circuit> all() {
    return List.of(
        logic("bit_logic"),
        sums(),
        choices(),
        lookups(),
        luts(),
        sparse(),
        patterns(),
        registers("registers_high", Reset.ACTIVE_HIGH),
        registers("registers_low", Reset.ACTIVE_LOW),
        registers("registers_free", Reset.NONE),
        memories(),
        instances(),
        hostile());
  }

  /** Random circuits with every kind of node, of every reset style and without a clock. */
  static List<Circuit> random() {
    List<Circuit> circuits = new ArrayList<>();
    int seed = 1;
    for (Reset reset : Reset.values()) {
      circuits.add(RandomCircuits.combinational(seed));
      circuits.add(RandomCircuits.clocked(seed, reset));
      seed++;
    }
    return circuits;
  }

  /** Logic, slices, constants, comparisons, reductions, with unnamed operands inside others. */
  static Circuit logic(String name) {
    CircuitBuilder b = Circuit.named(name, "Bit logic of every operation and mixture.");
    b.fact("Source", "hand-written sample");
    Signal a = b.input("a", 8, "first operand");
    Signal c = b.input("c", 8, "second operand");
    Signal s = b.input("s", 1, "a bit");
    Signal t = b.input("t", 1, "another bit");
    b.section("Mixtures");
    Signal mixed = b.or(List.of(b.and(List.of(a, b.not(c))), b.xor(List.of(a, c, b.not(a)))));
    b.output("mixed", mixed, "and, or, xor in one");
    b.output("inverted", b.not(b.and(List.of(a, c))), "not of and");
    b.output("same", b.or(List.of(b.or(List.of(s, t)), b.bit(a, 3))), "or of or");
    Signal joined = b.concat(List.of(s, b.and(List.of(t, s)), b.slice(a, 2, 3), b.constant(5, 3)));
    b.output("joined", b.xor(List.of(joined, c)), "concatenation inside logic");
    b.output("twice", b.and(List.of(b.concat(List.of(a, c)), b.concat(List.of(c, a)))), "two");
    b.output("part", b.slice(b.xor(List.of(a, c)), 1, 4), "slice of an expression");
    b.section("Comparisons and reductions");
    b.output("equal_wide", b.equal(a, c), "equal");
    b.output("equal_low", b.equal(b.slice(a, 0, 3), 5), "equal to a constant");
    b.output("equal_bit", b.equal(s, t), "one bit equal");
    b.output("is_one", b.equal(s, 1), "one bit is 1");
    b.output("is_zero", b.equal(s, 0), "one bit is 0");
    b.output("below_wide", b.lessThan(a, c), "less");
    b.output("below_bit", b.lessThan(s, t), "one bit less");
    b.output("below_joined", b.lessThan(b.concat(List.of(s, t)), b.slice(c, 6, 2)), "less");
    for (Node.Operation operation : Node.Operation.values()) {
      String word = operation.name().toLowerCase(java.util.Locale.ROOT);
      b.output("all_" + word, b.reduce(operation, b.xor(List.of(a, c))), "reduction");
    }
    b.section("Wide");
    BigInteger wide = BigInteger.TWO.pow(129).subtract(BigInteger.valueOf(12345));
    Signal long_input = b.input("long_input", 130, "more bits than a machine word");
    b.output("long_output", b.xor(List.of(long_input, b.constant(wide, 130))), "wide constant");
    b.output("passed", a, "an input");
    b.output("fixed", b.constant(0xa5, 8), "a constant");
    b.output("high_bit", b.bit(a, 7), "a bit");
    return b.build();
  }

  /** Sums and differences of all width relations. */
  static Circuit sums() {
    CircuitBuilder b = Circuit.named("sums", "Sums and differences.");
    Signal a = b.input("a", 8, "eight bits");
    Signal c = b.input("c", 5, "five bits");
    Signal s = b.input("s", 1, "one bit");
    b.output("wider", b.add(a, c, 9), "with carry");
    b.output("reversed", b.add(c, a, 9), "the narrow one first");
    b.output("wrapped", b.add(a, a, 8), "without carry");
    b.output("less", b.subtract(a, c, 8), "difference");
    b.output("negative", b.subtract(c, a, 10), "a difference below 0");
    b.output("one_bit", b.add(s, s, 1), "one bit");
    b.output("bit_less", b.subtract(s, b.bit(a, 0), 1), "one bit difference");
    b.output("carried", b.add(b.add(a, c, 9), s, 9), "three operands");
    b.output("bits", b.add(s, b.bit(c, 2), 2), "two bits");
    b.output("following", b.add(a, b.constant(1, 1), 8), "constant on the right");
    b.output("rest", b.subtract(b.constant(200, 8), c, 8), "constant on the left");
    b.output("rest_wide", b.subtract(b.constant(7, 3), c, 12), "constant on the left, extended");
    b.output("fixed", b.add(b.constant(3, 4), b.constant(9, 4), 5), "two constants");
    b.output("huge", b.add(b.constant(0xfedcba9876L, 40), a, 41), "a constant past 31 bits");
    b.output("mixed", b.add(b.xor(List.of(a, b.not(a))), b.concat(List.of(c, s)), 8), "mixed");
    return b.build();
  }

  /** Choices by one bit, by few, by many numbers. */
  static Circuit choices() {
    CircuitBuilder b = Circuit.named("choices", "Choices by number.");
    Signal a = b.input("a", 8, "first");
    Signal c = b.input("c", 8, "second");
    Signal s = b.input("s", 1, "one bit");
    Signal n = b.input("n", 3, "a number");
    Signal w = b.input("w", 12, "a number with many values");
    b.output("two", b.mux(s, a, c), "by one bit");
    b.output("two_computed", b.mux(b.equal(n, 3), a, b.not(c)), "by a comparison");
    b.output("one_bit", b.mux(b.and(List.of(s, b.bit(a, 0))), s, b.bit(c, 1)), "bits");
    b.output("three", b.select(n, List.of(a, c, b.constant(0x3c, 8))), "the last one for the rest");
    b.output("again", b.select(n, List.of(a, c, a, c, a, b.and(List.of(a, c)))), "repeated");
    b.output("many", b.select(w, List.of(a, c, b.xor(List.of(a, c)))), "compared");
    b.output("pair", b.select(n, List.of(a, c)), "two by three bits");
    b.output("pair_sum", b.select(b.add(n, b.slice(w, 0, 2), 4), List.of(a, c)), "two by a sum");
    b.output("by_part", b.select(b.slice(w, 3, 2), List.of(a, c, a, b.not(a))), "by some bits");
    return b.build();
  }

  /** Tables of all shapes. */
  static Circuit lookups() {
    CircuitBuilder b = Circuit.named("lookups", "Lookups in tables.");
    Signal a = b.input("code", 8, "an address");
    Signal s = b.input("s", 1, "one bit");
    long[] ranges = new long[256];
    long[] mixed = new long[256];
    long[] bits = new long[256];
    for (int i = 0; i < 256; i++) {
      ranges[i] = i < 0x40 ? 1 : i < 0x60 ? 2 : i == 0xfe ? 5 : 3;
      mixed[i] = (37L * i + (i >> 3)) & 0xf;
      bits[i] = Integer.bitCount(11 * i) & 1;
    }
    b.output("length", b.lookup(a, Contents.of(3, ranges)), "ranges");
    b.output("mixed", b.lookup(a, Contents.of(4, mixed)), "rows");
    b.output("again", b.lookup(b.not(a), Contents.of(4, mixed)), "the same table");
    b.output("flag", b.lookup(a, Contents.of(1, bits)), "bits");
    b.output("by_bit", b.lookup(s, Contents.of(4, 5, 10)), "by one bit");
    b.output("bit_by_bit", b.lookup(s, Contents.of(1, 1, 0)), "a bit by one bit");
    b.output("wide", b.lookup(b.slice(a, 0, 2), Contents.of(64, -1, 0, 1, 1L << 63)), "words");
    b.output(
        "joined",
        b.lookup(b.concat(List.of(s, s, s)), Contents.of(2, 0, 1, 2, 3, 3, 2, 1, 0)),
        "by joined bits");
    b.output("fixed", b.lookup(b.constant(3, 8), Contents.of(4, mixed)), "by a constant");
    return b.build();
  }

  /**
   * Tables whose only ones are in 32 bits at one end, of either end, which GHDL's synthesis takes
   * for no ones at all if they lead.
   */
  static Circuit sparse() {
    CircuitBuilder b = Circuit.named("sparse", "Tables with ones at one end only.");
    Signal a = b.input("a", 8, "address");
    List<Signal> eight = IntStream.range(0, 8).mapToObj(i -> b.bit(a, i)).toList();
    List<Signal> six = eight.subList(0, 6);
    b.output("lut_late", b.lut(six, Contents.of(1, words(64, i -> i > 60 ? 1 : 0))), "LUT");
    b.output("lut_early", b.lut(six, Contents.of(1, words(64, i -> i < 3 ? 1 : 0))), "LUT");
    b.output("lut_8_late", b.lut(eight, Contents.of(1, words(256, i -> i == 224 ? 1 : 0))), "LUT");
    b.output("bits_late", b.lookup(a, Contents.of(1, words(256, i -> i > 250 ? 1 : 0))), "bits");
    b.output("bits_early", b.lookup(a, Contents.of(1, words(256, i -> i < 32 ? 1 : 0))), "bits");
    Signal four = b.slice(a, 0, 4);
    b.output("words_late", b.lookup(four, Contents.of(4, words(16, i -> i < 8 ? 0 : i))), "words");
    b.output("words_early", b.lookup(four, Contents.of(4, words(16, i -> i < 8 ? i : 0))), "words");
    b.output("ranges", b.lookup(a, Contents.of(4, words(256, i -> i < 8 ? 3 : 0))), "ranges");
    return b.build();
  }

  /** Tables of 65,536 words, and of a bit less, that follow bit patterns. */
  static Circuit patterns() {
    CircuitBuilder b = Circuit.named("patterns", "Large tables by pattern.");
    Signal a = b.input("address", 16, "address");
    IntUnaryOperator length = i -> (i & 3) != 3 ? 2 : (i & 28) != 28 ? 4 : i >> 12 & 7;
    b.output("length", b.lookup(a, Contents.of(3, words(1 << 16, length))), "words");
    b.output("again", b.lookup(b.not(a), Contents.of(3, words(1 << 16, length))), "the same");
    IntUnaryOperator flag = i -> (i & 0x8421) == 0x8020 ? 1 : 0;
    b.output("flag", b.lookup(a, Contents.of(1, words(1 << 16, flag))), "bits");
    IntUnaryOperator part = i -> (i & 0x111) == 0x101 ? 9 : i & 8;
    b.output("part", b.lookup(b.slice(a, 2, 13), Contents.of(4, words(1 << 13, part))), "less");
    b.output("fixed", b.lookup(b.constant(31, 16), Contents.of(3, words(1 << 16, length))), "one");
    return b.build();
  }

  private static long[] words(int count, IntUnaryOperator word) {
    return IntStream.range(0, count).mapToLong(word::applyAsInt).toArray();
  }

  /** Physical LUTs of one to six inputs. */
  static Circuit luts() {
    CircuitBuilder b = Circuit.named("luts", "A network of LUTs.");
    Signal code = b.input("code", 6, "inputs of the network");
    b.section("LUTs");
    for (int inputs = 1; inputs <= 6; inputs++) {
      List<Signal> bits = IntStream.range(0, inputs).mapToObj(i -> b.bit(code, i)).toList();
      long[] words = new long[1 << inputs];
      for (int i = 0; i < words.length; i++) {
        words[i] = (0x9e3779b97f4a7c15L >>> i) & 1;
      }
      Signal lut = b.lut(bits, Contents.of(1, words));
      b.comment(lut, "Of " + inputs + " inputs.");
      Signal second = b.lut(List.of(lut, b.bit(code, 5)), Contents.of(1, 0, 1, 1, 0));
      b.output("found_" + inputs, second, "two levels");
    }
    return b.build();
  }

  /** Registers with and without enable, one bit and wide. */
  static Circuit registers(String name, Reset reset) {
    CircuitBuilder b = Circuit.named(name, "Registers.").reset(reset);
    Signal go = b.input("go", 1, "count");
    Signal load = b.input("load", 1, "take the data");
    Signal data = b.input("data", 8, "data");
    Signal count = b.register("count", 8, 0x5a);
    Signal flag = b.register("flag", 1, 1);
    Signal held = b.register("held", 8, 3);
    Signal wide = b.dataRegister("wide", 100);
    Signal fixed = b.register("fixed", 3, 5);
    Signal never = b.register("never", 3, 6);
    b.comment(count, "Counts what passed.");
    b.drive(count, b.mux(load, data, b.add(count, b.constant(1, 1), 8)), b.or(List.of(go, load)));
    b.drive(flag, b.not(flag));
    b.drive(held, data, load);
    b.drive(wide, b.concat(List.of(data, b.slice(wide, 0, 92))), go);
    b.drive(fixed, b.slice(data, 1, 3), b.constant(1, 1));
    b.drive(never, b.slice(data, 2, 3), b.constant(0, 1));
    b.output("count", count, "the register");
    b.output("flag_out", flag, "the bit");
    b.output("held_sum", b.add(held, count, 9), "both");
    b.output("wide_out", wide, "a shift register");
    b.output("fixed_out", b.concat(List.of(fixed, never)), "with constant enables");
    return b.build();
  }

  /** Block and distributed RAM. */
  static Circuit memories() {
    CircuitBuilder b = Circuit.named("memories", "Memories.");
    Signal write = b.input("write", 4, "write enables");
    Signal at = b.input("at", 4, "address to write");
    Signal data = b.input("data", 32, "data to write");
    Signal from = b.input("from_address", 4, "address to read");
    Signal enable = b.input("enable", 1, "read");
    Memory lines = b.memory(new Memory("lines", Memory.Kind.BLOCK, 16, 32, 4));
    Memory tags = b.memory(new Memory("tags", Memory.Kind.DISTRIBUTED, 16, 32, 1));
    Memory bits = b.memory(new Memory("bits", Memory.Kind.DISTRIBUTED, 2, 1, 1));
    Memory pairs = b.memory(new Memory("pairs", Memory.Kind.BLOCK, 16, 2, 2));
    // No word is written that is read: at from_address, and at the sum.
    Signal apart = b.not(b.or(List.of(b.equal(at, from), b.equal(from, 0))));
    Signal lanes = b.and(List.of(write, b.concat(List.of(apart, apart, apart, apart))));
    b.write(lines, lanes, at, data);
    b.write(tags, b.or(List.of(b.bit(write, 0), b.bit(write, 1))), b.add(at, at, 4), data);
    b.write(bits, b.constant(1, 1), b.bit(at, 0), b.bit(data, 0));
    b.write(pairs, b.slice(lanes, 2, 2), at, b.slice(data, 3, 2));
    Signal line = b.read(lines, from, enable);
    b.comment(line, "The word of the cycle before.");
    b.output("line", line, "enabled");
    b.output("line_always", b.read(lines, b.add(from, at, 4)), "not enabled");
    b.output("tag", b.read(tags, from), "same cycle");
    b.output("tag_fixed", b.read(tags, b.constant(3, 4)), "at a fixed address");
    b.output("one", b.read(bits, b.bit(from, 0)), "one bit by one bit");
    b.output("pair", b.read(pairs, from, b.constant(1, 1)), "two lanes of one bit");
    return b.build();
  }

  /** Blocks inside blocks, with an output that nobody reads and a block used twice. */
  static Circuit instances() {
    Circuit leaf = registers("instances_leaf", Reset.ACTIVE_HIGH);
    Circuit logic = logic("instances_logic");
    CircuitBuilder b = Circuit.named("instances", "Blocks inside.");
    Signal a = b.input("a", 8, "data");
    Signal s = b.input("s", 1, "a bit");
    Map<String, Signal> first =
        b.instance("first", leaf, Map.of("go", s, "load", b.bit(a, 0), "data", a));
    Map<String, Signal> second =
        b.instance(
            "second",
            leaf,
            Map.of(
                "go",
                b.not(s),
                "load",
                b.constant(0, 1),
                "data",
                b.xor(List.of(a, first.get("count")))));
    Map<String, Signal> third =
        b.instance(
            "third",
            logic,
            Map.of(
                "a",
                first.get("count"),
                "c",
                b.slice(second.get("wide_out"), 30, 8),
                "s",
                second.get("flag_out"),
                "t",
                s,
                "long_input",
                b.constant(99, 130)));
    b.output("mixed", third.get("mixed"), "from the logic");
    b.output("below", third.get("below_wide"), "from the logic");
    b.output("sum", second.get("held_sum"), "from the second");
    return b.build();
  }

  /** Text that tries to leave its comment, and names that the emitter uses itself. */
  static Circuit hostile() {
    CircuitBuilder b =
        Circuit.named(
            "hostile",
            "Ends here\n  assert false severity failure;\r\nend; */ -- \u2028 pragma translate_off"
                + " \\ \u00e4\u0000\n\npragma translate_off\nsynthesis translate_off");
    b.fact("Key\nassert false;", "value\n\n--\rassert false;");
    Signal left = b.input("left", 8, "doc\nassert false;\n" + "long words ".repeat(30));
    Signal right = b.input("right", 8, "pragma translate_off");
    Signal bit = b.input("lut_of", 1, "synthesis translate_off");
    Signal vector = b.input("vector", 2, "");
    b.section("section\nassert false;");
    Signal below = b.named(b.lessThan(left, right), "is_below");
    b.comment(below, "comment\nassert false;\f\u000bassert false;\u0085assert false;");
    Signal lut = b.lut(List.of(bit, below), Contents.of(1, 0, 0, 0, 1));
    b.output("table_bits", b.named(lut, "hostile"), "psl assert");
    b.output("and_all", b.reduce(Node.Operation.AND, left), "reduced");
    b.output("inputs", b.lookup(vector, Contents.of(2, 1, 2, 3, 0)), "table");
    b.output("rtl", b.equal(left, right), "architecture's name");
    Signal state = b.register("inputs", 8, 0);
    b.drive(state, b.add(state, b.constant(1, 1), 8));
    b.output("found_table_type", state, "type's name");
    return b.build();
  }
}

package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.FillOrder;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node.Operation;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.List;

/**
 * The blocks of a cache that hold its lines: a way's tags, a way's data, the valid bits, and the
 * compare of a set's tags.
 */
final class CacheBlocks {

  /** What devices differ in, and a cache must not rely on: a test proves that none does. */
  private static final String UNUSED =
      "The cache makes no use of a word that is read in the cycle that writes it.";

  private final FetchUnit unit;
  private final CacheWidths widths;
  private final int groupBits;

  CacheBlocks(FetchUnit unit, CacheWidths widths, int lutInputs) {
    this.unit = unit;
    this.widths = widths;
    this.groupBits = Math.max(1, lutInputs / 2);
  }

  /** A way's tags: {@code index}, {@code read}; {@code tag}. */
  Circuit tags() {
    boolean block = unit.cache().tags() == TagPlace.BLOCK_RAM;
    CircuitBuilder circuit =
        Circuit.named(
            unit.name() + "_tags",
            block
                ? "The tags of a way in block RAM: that of a set, one cycle later. " + UNUSED
                : "The tags of a way in distributed RAM: that of a set, in the same cycle.");
    Signal index = circuit.input("index", widths.index(), "the set");
    Memory tags =
        circuit.memory(
            new Memory(
                FetchProbes.TAGS,
                block ? Memory.Kind.BLOCK : Memory.Kind.DISTRIBUTED,
                1 << widths.index(),
                widths.tag(),
                1));
    Signal tag =
        block
            ? circuit.read(tags, index, circuit.input("read", 1, "1: the tag is read"))
            : circuit.read(tags, index);
    Signal write = circuit.input("write", 1, "1: the new tag is written");
    circuit.write(
        tags,
        write,
        circuit.input("write_index", widths.index(), "its set"),
        circuit.input("new_tag", widths.tag(), "a tag"));
    circuit.output("tag", tag, "the tag of the set");
    return circuit.build();
  }

  /** A way's data: {@code place}, {@code read}; {@code word}. */
  Circuit data() {
    CircuitBuilder circuit =
        Circuit.named(
            unit.name() + "_data",
            "The windows of a way in block RAM"
                + (widths.stored() > 0 ? ", with what the lanes say of each" : "")
                + ": one a cycle, one cycle later. "
                + UNUSED);
    Signal place = circuit.input("place", widths.place(), "the window of a line, the set above it");
    Signal read = circuit.input("read", 1, "1: the word is read");
    Signal write = circuit.input("write", 1, "1: the new word is written");
    Signal writePlace = circuit.input("write_place", widths.place(), "its place");
    Signal word = circuit.input("new_word", widths.word(), "a window, first byte lowest");
    Memory windows =
        circuit.memory(
            new Memory("windows", Memory.Kind.BLOCK, 1 << widths.place(), widths.word(), 1));
    circuit.output("word", circuit.read(windows, place, read), "the word of the place");
    circuit.write(windows, write, writePlace, word);
    return circuit.build();
  }

  /** The valid bits: {@code index}; {@code valid}, a bit for each way. */
  Circuit valid() {
    CircuitBuilder circuit =
        Circuit.named(
            unit.name() + "_valid", "Which lines are valid: a register each, all cleared at once.");
    Signal index = circuit.input("index", widths.index(), "the set");
    int ways = widths.ways();
    Signal write = circuit.input("write", ways, "the ways whose bit is written");
    Signal writeIndex = circuit.input("write_index", widths.index(), "their set");
    Signal value = circuit.input("value", 1, "the bit");
    Signal clear = circuit.input("clear", 1, "1: no line is valid");
    Memory valid =
        circuit.memory(new Memory("lines", Memory.Kind.REGISTERS, 1 << widths.index(), ways, ways));
    circuit.output("valid", circuit.read(valid, index), "the ways of the set that are valid");
    List<Signal> values = new ArrayList<>();
    for (int way = 0; way < ways; way++) {
      values.add(value);
    }
    circuit.write(valid, write, writeIndex, circuit.concat(values), clear);
    return circuit.build();
  }

  /** The compare: {@code wanted}, {@code valid}, {@code tag_0}...; {@code hits}, {@code way}. */
  Circuit compare() {
    CircuitBuilder circuit =
        Circuit.named(
            unit.name() + "_compare",
            "Which way has the tag wanted. Tags are compared in groups of "
                + groupBits
                + " bits, as many as a LUT takes of both.");
    Signal wanted = circuit.input("wanted", widths.tag(), "the tag of the address");
    Signal valid = circuit.input("valid", widths.ways(), "the ways that are valid");
    List<Signal> hits = new ArrayList<>();
    for (int way = 0; way < widths.ways(); way++) {
      Signal tag = circuit.input("tag_" + way, widths.tag(), "the tag of way " + way);
      List<Signal> groups = new ArrayList<>();
      for (int low = 0; low < widths.tag(); low += groupBits) {
        int bits = Math.min(groupBits, widths.tag() - low);
        groups.add(circuit.equal(circuit.slice(tag, low, bits), circuit.slice(wanted, low, bits)));
      }
      groups.add(circuit.bit(valid, way));
      Signal same = circuit.named(circuit.concat(groups), "same_" + way);
      hits.add(circuit.named(circuit.reduce(Operation.AND, same), "hit_" + way));
    }
    Signal all = circuit.named(circuit.concat(hits), "all_hits");
    circuit.output(FetchProbes.HIT, circuit.reduce(Operation.OR, all), "1: a way has it");
    circuit.output(FetchProbes.WAY, encoded(circuit, hits, widths.way()), "that way");
    circuit.output(FetchProbes.HITS, all, "a one for that way");
    return circuit.build();
  }

  /** The number of the flag that is 1, of which at most one is. */
  static Signal encoded(CircuitBuilder circuit, List<Signal> flags, int bits) {
    List<Signal> digits = new ArrayList<>();
    for (int bit = 0; bit < bits; bit++) {
      List<Signal> those = new ArrayList<>();
      for (int i = 0; i < flags.size(); i++) {
        if ((i >> bit & 1) != 0) {
          those.add(flags.get(i));
        }
      }
      digits.add(those.isEmpty() ? circuit.constant(0, 1) : circuit.or(those));
    }
    return circuit.concat(digits);
  }

  /** A one for a number. */
  static Signal oneHot(CircuitBuilder circuit, Signal number, int count) {
    if (count == 1) {
      return circuit.constant(1, 1);
    }
    List<Signal> bits = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      bits.add(circuit.equal(number, i));
    }
    return circuit.concat(bits);
  }

  /** The fill of a line, from the request to the last beat. */
  Circuit fill() {
    return new LineFill(unit, widths, unit.order() == FillOrder.CRITICAL_FIRST).build();
  }
}

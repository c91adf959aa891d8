package dev.lengthwise.realize.fetch;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.RamArray;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.cache.RamUse;
import dev.lengthwise.cache.Replacement;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node.Operation;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.List;

/** The block that names the way a line comes into, and keeps the state that the choice needs. */
final class VictimChoice {

  private final Replacement replacement;
  private final CacheWidths widths;
  private final int ways;
  private final RamFit fit;
  private final CircuitBuilder circuit;
  private Signal index;
  private Signal start;
  private Signal full;

  VictimChoice(FetchUnit unit, CacheWidths widths, RamFit fit) {
    this.fit = fit;
    this.replacement = unit.cache().replacement();
    this.widths = widths;
    this.ways = widths.ways();
    this.circuit =
        Circuit.named(
            unit.name() + "_replacement",
            "Which way of a set a line comes into: the lowest that is not valid, or the one that "
                + replacement.label()
                + " names.");
  }

  Circuit build() {
    index = circuit.input("index", widths.index(), "the set");
    Signal valid = circuit.input("valid", ways, "its ways that are valid");
    start = circuit.input("start", 1, "1: a line comes into the victim");
    Signal hit = circuit.input("hit", 1, "1: the hit way is used");
    Signal hitWay = circuit.input("hit_way", widths.way(), "a way");
    full = circuit.named(circuit.reduce(Operation.AND, valid), "full");
    Signal lowest = circuit.constant(ways - 1, widths.way());
    for (int way = ways - 2; way >= 0; way--) {
      Signal here = circuit.constant(way, widths.way());
      lowest =
          circuit.suggested(
              circuit.mux(circuit.bit(valid, way), lowest, here), "lowest_free_from_" + way);
    }
    Signal victim =
        ways == 1
            ? circuit.constant(0, 1)
            : switch (replacement) {
              case LRU, TREE_PLRU -> ofUse(lowest, hit, hitWay);
              case FIFO -> fifo(lowest);
              case RANDOM -> chosen(random(), lowest);
            };
    circuit.output("victim", victim, "the way that the line comes into");
    circuit.output("full", full, "1: a valid line leaves");
    return circuit.build();
  }

  private Signal chosen(Signal named, Signal lowest) {
    return circuit.named(circuit.mux(full, named, lowest), "chosen");
  }

  /** The state of every set, in what the fit says: where LUTs are no RAM, registers. */
  private Memory state(int bits) {
    RamUse.Medium medium = fit.entry(RamArray.Part.REPLACEMENT).chosen().use().medium();
    Memory.Kind kind =
        medium == RamUse.Medium.REGISTERS ? Memory.Kind.REGISTERS : Memory.Kind.DISTRIBUTED;
    return circuit.memory(new Memory("state", kind, 1 << widths.index(), bits, 1));
  }

  private void write(Memory state, Signal enable, Signal word) {
    if (state.kind() == Memory.Kind.REGISTERS) {
      circuit.write(state, enable, index, word, circuit.constant(0, 1));
    } else {
      circuit.write(state, enable, index, word);
    }
  }

  /** Replacement that notes every use: the state of the set is read, changed and written. */
  private Signal ofUse(Signal lowest, Signal hit, Signal hitWay) {
    boolean lru = replacement == Replacement.LRU;
    Memory state = state(replacement.stateBits(ways));
    Signal before = circuit.named(circuit.read(state, index), "old_state");
    Signal victim = chosen(lru ? leastRecent(before) : pointedAt(before), lowest);
    Signal used = circuit.named(circuit.mux(start, victim, hitWay), "used");
    write(
        state,
        circuit.or(List.of(start, hit)),
        circuit.named(lru ? usedLast(before, used) : pointedAway(before, used), "new_state"));
    return victim;
  }

  /** The bit of a pair of ways, the lower one first: 1 if the higher one was used later. */
  private static int pair(int low, int high) {
    return high * (high - 1) / 2 + low;
  }

  private Signal leastRecent(Signal before) {
    List<Signal> least = new ArrayList<>();
    for (int way = 0; way < ways; way++) {
      List<Signal> later = new ArrayList<>();
      for (int other = 0; other < ways; other++) {
        if (other > way) {
          later.add(circuit.bit(before, pair(way, other)));
        } else if (other < way) {
          later.add(circuit.not(circuit.bit(before, pair(other, way))));
        }
      }
      least.add(circuit.named(circuit.and(later), "least_" + way));
    }
    return circuit.suggested(CacheBlocks.encoded(circuit, least, widths.way()), "least_recent");
  }

  private Signal usedLast(Signal before, Signal used) {
    Signal is = circuit.named(CacheBlocks.oneHot(circuit, used, ways), "is_used");
    List<Signal> after = new ArrayList<>();
    for (int high = 1; high < ways; high++) {
      for (int low = 0; low < high; low++) {
        Signal kept =
            circuit.and(
                List.of(circuit.bit(before, pair(low, high)), circuit.not(circuit.bit(is, low))));
        after.add(circuit.or(List.of(kept, circuit.bit(is, high))));
      }
    }
    return circuit.concat(after);
  }

  /** Node n of the tree is bit n - 1; the nodes below n are 2n and 2n + 1. */
  private Signal pointedAt(Signal before) {
    return circuit.suggested(circuit.concat(path(before, 1)), "pointed_at");
  }

  /** The way's bits below a node, lowest first. */
  private List<Signal> path(Signal before, int node) {
    Signal pointer = circuit.bit(before, node - 1);
    List<Signal> bits = new ArrayList<>();
    if (2 * node < ways) {
      List<Signal> left = path(before, 2 * node);
      List<Signal> right = path(before, 2 * node + 1);
      for (int i = 0; i < left.size(); i++) {
        bits.add(
            circuit.suggested(
                circuit.mux(pointer, right.get(i), left.get(i)),
                "way_bit_" + i + "_under_" + node));
      }
    }
    bits.add(pointer);
    return bits;
  }

  private Signal pointedAway(Signal before, Signal used) {
    List<Signal> after = new ArrayList<>();
    for (int node = 1; node < ways; node++) {
      int level = Integer.SIZE - 1 - Integer.numberOfLeadingZeros(node);
      int bit = widths.way() - 1 - level;
      Signal away = circuit.not(circuit.bit(used, bit));
      if (level == 0) {
        after.add(away);
      } else {
        Signal passed = circuit.equal(circuit.slice(used, bit + 1, level), node - (1L << level));
        after.add(
            circuit.suggested(
                circuit.mux(passed, away, circuit.bit(before, node - 1)), "new_pointer_" + node));
      }
    }
    return circuit.concat(after);
  }

  /** A pointer for each set goes to the way behind the one filled last. */
  private Signal fifo(Signal lowest) {
    Memory state = state(widths.way());
    Signal victim = chosen(circuit.named(circuit.read(state, index), "oldest"), lowest);
    Signal next = circuit.add(victim, circuit.constant(1, widths.way()), widths.way());
    if (Integer.bitCount(ways) != 1) {
      Signal zero = circuit.constant(0, widths.way());
      next = circuit.mux(circuit.equal(victim, ways - 1L), zero, next);
    }
    circuit.suggested(next, "next_oldest");
    write(state, start, next);
    return victim;
  }

  /** A shift register for all sets moves at each fill of a full set. */
  private Signal random() {
    Signal register = circuit.register("shift_register", Replacement.LFSR_BITS, 1);
    Signal in =
        circuit.xor(
            List.of(
                circuit.bit(register, 15),
                circuit.bit(register, 14),
                circuit.bit(register, 12),
                circuit.bit(register, 3)));
    Signal moved =
        circuit.concat(List.of(in, circuit.slice(register, 0, Replacement.LFSR_BITS - 1)));
    circuit.drive(register, moved, circuit.and(List.of(start, full)));
    List<Signal> bits = new ArrayList<>();
    for (int bit = 0; bit < widths.way(); bit++) {
      bits.add(circuit.bit(register, 4 * bit));
    }
    if (Integer.bitCount(ways) != 1) {
      int top = widths.way() - 1;
      Signal all = circuit.named(circuit.concat(bits), "drawn");
      Signal exists = circuit.lessThan(all, circuit.constant(ways, widths.way()));
      bits.set(top, circuit.and(List.of(bits.get(top), exists)));
    }
    return circuit.concat(bits);
  }
}

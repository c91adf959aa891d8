package dev.lengthwise.study;

import dev.lengthwise.study.fetch.FetchModel;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.fetch.Throughput;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;

/**
 * The rules of {@link FetchModel}'s page, cycle by cycle, with a queue of byte addresses and a list
 * of items; slow, and written without a look at the model's code.
 */
public final class NaiveFrontEnd {

  /** An instruction of a program. */
  public record Step(long address, int bytes, int prefixItems, boolean handled) {}

  private record Item(List<Long> bytes, boolean last, boolean slow, boolean takenBehind) {}

  private final FrontEnd frontEnd;
  private final long addressMask;
  private final Deque<Item> program = new ArrayDeque<>();
  private final Deque<Long> targets = new ArrayDeque<>();
  private final Deque<Long> queue = new ArrayDeque<>();
  private final List<List<Long>> sets = new ArrayList<>();
  private final Map<Throughput.SlotUse, Long> slots = new EnumMap<>(Throughput.SlotUse.class);

  private long cycle;
  private long instructions;
  private long windows;
  private long misses;
  private long nextByte;
  private long fetchFrom;
  private long missUntil = -1;
  private boolean missIsUseless;
  private List<Long> missBytes = List.of();
  private long slowUntil = -1;
  private boolean branchAfterSlow;
  private boolean anyItemSinceBranch;

  private NaiveFrontEnd(FrontEnd frontEnd, int unit, List<Step> steps) {
    this.frontEnd = frontEnd;
    int bits = frontEnd.cache().map(c -> c.geometry().addressBits()).orElse(64);
    this.addressMask = bits == 64 ? -1L : (1L << bits) - 1;
    frontEnd
        .cache()
        .ifPresent(
            c -> {
              for (int i = 0; i < c.geometry().sets(); i++) {
                sets.add(new ArrayList<>());
              }
            });
    for (Throughput.SlotUse use : Throughput.SlotUse.values()) {
      slots.put(use, 0L);
    }
    for (int i = 0; i < steps.size(); i++) {
      Step step = steps.get(i);
      boolean lastOfAll = i + 1 == steps.size();
      long after = step.address + step.bytes & addressMask;
      boolean taken = lastOfAll || steps.get(i + 1).address != after;
      if (taken && !lastOfAll) {
        targets.add(steps.get(i + 1).address);
      }
      int at = 0;
      for (int p = 0; p < step.prefixItems; p++) {
        program.add(new Item(addresses(step.address + at, unit), false, false, false));
        at += unit;
      }
      program.add(
          new Item(addresses(step.address + at, step.bytes - at), true, !step.handled, taken));
    }
    if (!steps.isEmpty()) {
      nextByte = steps.get(0).address;
    }
  }

  public static Throughput run(FrontEnd frontEnd, int unit, List<Step> steps) {
    NaiveFrontEnd machine = new NaiveFrontEnd(frontEnd, unit, steps);
    boolean done = steps.isEmpty();
    while (!done) {
      machine.decode();
      done = machine.program.isEmpty() && machine.cycle >= machine.slowUntil;
      if (!done) {
        machine.fetch();
      }
      machine.cycle++;
    }
    return new Throughput(
        machine.instructions,
        machine.cycle,
        frontEnd.decoderWidth(),
        machine.slots,
        machine.windows,
        machine.misses);
  }

  private List<Long> addresses(long from, int count) {
    List<Long> found = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      found.add(from + i & addressMask);
    }
    return found;
  }

  private void count(Throughput.SlotUse use) {
    slots.merge(use, 1L, Long::sum);
  }

  private void decode() {
    Throughput.SlotUse rest = null;
    boolean slowWorks = cycle <= slowUntil;
    for (int slot = 0; slot < frontEnd.decoderWidth(); slot++) {
      if (slowWorks) {
        rest = Throughput.SlotUse.SLOW_PATH;
      } else if (rest == null) {
        Item item = program.peek();
        if (item != null && stands(item)) {
          rest = decode(item);
          continue;
        }
        rest = reason();
      }
      count(rest);
    }
    if (branchAfterSlow && cycle == slowUntil) {
      branch();
      branchAfterSlow = false;
    }
  }

  private boolean stands(Item item) {
    return List.copyOf(queue)
        .subList(0, Math.min(queue.size(), item.bytes.size()))
        .equals(item.bytes);
  }

  private Throughput.SlotUse reason() {
    if (program.isEmpty()) {
      return Throughput.SlotUse.TAKEN_BRANCH;
    }
    if (cycle <= missUntil) {
      return Throughput.SlotUse.MISS;
    }
    return anyItemSinceBranch ? Throughput.SlotUse.DELIVERY : Throughput.SlotUse.TAKEN_BRANCH;
  }

  /** Returns what the slots behind the item are used for, or null if more items may follow. */
  private Throughput.SlotUse decode(Item item) {
    program.remove();
    item.bytes.forEach(b -> queue.remove());
    anyItemSinceBranch = true;
    if (!item.last) {
      count(Throughput.SlotUse.PREFIX);
      return null;
    }
    count(Throughput.SlotUse.INSTRUCTION);
    instructions++;
    if (item.slow) {
      if (frontEnd.slowCycles() > 0) {
        slowUntil = cycle + frontEnd.slowCycles();
        branchAfterSlow = item.takenBehind;
      } else if (item.takenBehind) {
        branch();
      }
      return Throughput.SlotUse.SLOW_PATH;
    }
    if (item.takenBehind) {
      branch();
      return Throughput.SlotUse.TAKEN_BRANCH;
    }
    return null;
  }

  private void branch() {
    queue.clear();
    anyItemSinceBranch = false;
    if (targets.isEmpty()) {
      return;
    }
    nextByte = targets.remove();
    fetchFrom = cycle + frontEnd.redirectCycles();
    missIsUseless = cycle <= missUntil;
  }

  private void fetch() {
    if (cycle <= missUntil) {
      if (cycle == missUntil && !missIsUseless) {
        deliver(missBytes);
      }
      return;
    }
    if (cycle < fetchFrom) {
      return;
    }
    int window = frontEnd.windowBytes();
    List<Long> bytes = new ArrayList<>();
    long at = nextByte;
    do {
      bytes.add(at);
      at = at + 1 & addressMask;
    } while (Long.remainderUnsigned(at, window) != 0);
    if (queue.size() + bytes.size() > frontEnd.queueBytes()) {
      return;
    }
    windows++;
    if (hits(nextByte)) {
      deliver(bytes);
      return;
    }
    misses++;
    if (frontEnd.missCycles() == 0) {
      deliver(bytes);
    } else {
      missUntil = cycle + frontEnd.missCycles();
      missIsUseless = false;
      missBytes = bytes;
    }
  }

  private void deliver(List<Long> bytes) {
    queue.addAll(bytes);
    nextByte = bytes.get(bytes.size() - 1) + 1 & addressMask;
  }

  /** A cache that leaves out the line that was used longest ago. */
  private boolean hits(long address) {
    if (frontEnd.cache().isEmpty()) {
      return true;
    }
    var geometry = frontEnd.cache().get().geometry();
    long line = Long.divideUnsigned(address, geometry.lineBytes());
    List<Long> set = sets.get((int) Long.remainderUnsigned(line, geometry.sets()));
    boolean there = set.remove(line);
    set.add(line);
    if (set.size() > geometry.ways()) {
      set.remove(0);
    }
    return there;
  }
}

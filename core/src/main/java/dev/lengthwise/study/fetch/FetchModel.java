package dev.lengthwise.study.fetch;

import dev.lengthwise.cache.CacheModel;
import dev.lengthwise.table.CodeUnit;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;

/**
 * A cycle model of a front end: cache, windows, queue, decoder and slow path.
 *
 * <p>An instruction is a number of prefix items, one code unit each, and a last item with the rest
 * of its bytes. An instruction is the target of a taken branch if it does not start where the one
 * before it ended; the first one counts as a target, and after the last one a branch is taken. Each
 * cycle has two phases.
 *
 * <p><b>Decode</b> sees the queue as the cycle before left it.
 *
 * <ol>
 *   <li>If the slow path is at work, all slots of the cycle are {@link
 *       Throughput.SlotUse#SLOW_PATH}, and the rest of this list is left out but for the last
 *       point.
 *   <li>Items are decoded in order, each in a slot, as long as there is a slot and the next item
 *       stands in the queue with all its bytes, which then leave the queue. The slot of a prefix
 *       item is {@link Throughput.SlotUse#PREFIX}, that of a last item {@link
 *       Throughput.SlotUse#INSTRUCTION}.
 *   <li>An instruction that is not handled takes one slot, {@link Throughput.SlotUse#INSTRUCTION},
 *       for its last item. The slots left in the cycle are {@link Throughput.SlotUse#SLOW_PATH},
 *       and the slow path is at work in the next {@link FrontEnd#slowCycles()} cycles.
 *   <li>If the next item does not stand in the queue, the slots left are {@link
 *       Throughput.SlotUse#MISS} if a miss is under way as the cycle starts; otherwise {@link
 *       Throughput.SlotUse#TAKEN_BRANCH} if no item was decoded since the last taken branch;
 *       otherwise {@link Throughput.SlotUse#DELIVERY}.
 *   <li>An instruction is complete in the cycle of its last item, or in the last cycle of the slow
 *       path for it. If a branch is taken behind it, the slots left in this cycle are {@link
 *       Throughput.SlotUse#TAKEN_BRANCH}, the queue is emptied, the place of fetch becomes the
 *       target, and fetch waits {@link FrontEnd#redirectCycles()} cycles, this one being the first.
 * </ol>
 *
 * <p><b>Fetch</b> follows in the same cycle.
 *
 * <ol>
 *   <li>A miss that is under way comes one cycle nearer to its end. In its last cycle its window is
 *       delivered; one that was under way at a taken branch delivers nothing. No other window is
 *       read in any of these cycles: the cache fills one line at a time and does not break off.
 *   <li>Otherwise, if fetch does not wait after a branch and the queue has room for the bytes from
 *       the place of fetch to the end of its aligned window, that window is read. If it hits, these
 *       bytes are delivered: they stand in the queue from the next cycle on, and the place of fetch
 *       becomes the next window. If it misses, a miss is under way for the next {@link
 *       FrontEnd#missCycles()} cycles; with 0 of them the bytes are delivered at once.
 * </ol>
 *
 * <p>The last cycle is the one in which the last instruction is complete; it has no fetch phase.
 *
 * <p>So fetch runs ahead of the decoder over branches that will be taken, and what it reads there
 * counts in the cache. No item waits for bytes behind it that a lane looks at. Addresses wrap at
 * the cache's address bits, without a cache at 64.
 *
 * <p>Not safe for use by several threads.
 */
public final class FetchModel {

  private final int window;
  private final int queueBytes;
  private final int width;
  private final int slowCycles;
  private final int redirectCycles;
  private final int missCycles;
  private final int longest;
  private final int unitBytes;
  private final long mask;
  private final CacheModel cache;

  private long instructions;
  private long cycles;
  private long windows;
  private long misses;
  private long prefixSlots;
  private long slowSlots;
  private long branchSlots;
  private long missSlots;
  private long deliverySlots;

  /** The slots left in the cycle at hand, whose fetch phase is still to come. */
  private int free;

  private int queued;

  /** True until an item is decoded after a taken branch. */
  private boolean cold = true;

  /** Where the instruction before ended. */
  private long end;

  private long place;
  private int redirectLeft;
  private int missLeft;
  private boolean missUseless;
  private boolean finished;

  private FetchModel(FrontEnd frontEnd, CodeUnit unit) {
    this.window = frontEnd.windowBytes();
    this.queueBytes = frontEnd.queueBytes();
    this.width = frontEnd.decoderWidth();
    this.slowCycles = frontEnd.slowCycles();
    this.redirectCycles = frontEnd.redirectCycles();
    this.missCycles = frontEnd.missCycles();
    this.longest = frontEnd.longestInstruction();
    this.unitBytes = unit.bytes();
    this.cache = frontEnd.cache().map(CacheModel::of).orElse(null);
    int bits = cache == null ? Long.SIZE : cache.geometry().addressBits();
    this.mask = -1L >>> (Long.SIZE - bits);
    this.free = width;
  }

  /**
   * Makes a front end with an empty queue and an empty cache.
   *
   * @param frontEnd the sizes and delays
   * @param unit the unit of a prefix
   * @return the model
   */
  public static FetchModel of(FrontEnd frontEnd, CodeUnit unit) {
    return new FetchModel(frontEnd, Objects.requireNonNull(unit, "unit"));
  }

  /**
   * Takes the next instruction that the program executes.
   *
   * @param address the address of its first byte, unsigned
   * @param bytes its bytes, in [1, {@link FrontEnd#longestInstruction()}]
   * @param prefixItems the prefixes that are items of their own, fewer than its code units
   * @param handled false if the slow path decides its last item
   * @throws IllegalArgumentException if a number is out of range or the address too wide
   * @throws IllegalStateException if the model was finished
   */
  public void instruction(long address, int bytes, int prefixItems, boolean handled) {
    int rest = bytes - prefixItems * unitBytes;
    if (finished || bytes > longest || rest < 1 || prefixItems < 0 || (address & ~mask) != 0) {
      refuse(address, bytes, prefixItems);
    }
    if (address != end || instructions == 0) {
      branch(address);
    }
    for (int i = 0; i < prefixItems; i++) {
      take(unitBytes);
      prefixSlots++;
    }
    take(rest);
    instructions++;
    end = (address + bytes) & mask;
    if (!handled) {
      slowPath();
    }
  }

  private void refuse(long address, int bytes, int prefixItems) {
    if (finished) {
      throw new IllegalStateException(
          "fetch model: no instruction is expected after the end, found one at "
              + hexadecimal(address));
    }
    if (bytes < 1 || bytes > longest) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "fetch model: an instruction must be in [1, %d] bytes, for the queue to hold it,"
                  + " found %d at %s",
              longest,
              bytes,
              hexadecimal(address)));
    }
    if ((address & ~mask) != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "fetch model: an address must have at most %d bits, found %s",
              Long.bitCount(mask),
              hexadecimal(address)));
    }
    throw new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "fetch model: prefixes must leave room for an opcode, found %d in %d bytes at %s",
            prefixItems,
            bytes,
            hexadecimal(address)));
  }

  private static String hexadecimal(long address) {
    return String.format(Locale.ROOT, "0x%x", address);
  }

  private void branch(long target) {
    place = target;
    queued = 0;
    cold = true;
    if (instructions > 0) {
      branchSlots += free;
      free = 0;
      redirectLeft = redirectCycles;
      missUseless = missLeft > 0;
    }
  }

  /** Decodes an item, in this cycle or a later one. */
  private void take(int bytes) {
    while (free == 0 || queued < bytes) {
      if (free > 0) {
        starve();
      } else {
        endCycle();
      }
    }
    free--;
    queued -= bytes;
    cold = false;
  }

  private void starve() {
    if (missLeft > 0) {
      missSlots += free;
      endCycle();
      // All but the last of the cycles left are alike.
      int alike = missLeft - 1;
      if (alike > 0) {
        cycles += alike;
        missSlots += (long) alike * width;
        missLeft = 1;
        redirectLeft = Math.max(0, redirectLeft - alike);
      }
      return;
    }
    if (cold) {
      branchSlots += free;
    } else {
      deliverySlots += free;
    }
    endCycle();
  }

  private void slowPath() {
    slowSlots += free;
    free = 0;
    for (int i = 0; i < slowCycles; i++) {
      endCycle();
      slowSlots += width;
      free = 0;
    }
  }

  /** Does the fetch phase of this cycle and opens the next one. */
  private void endCycle() {
    cycles++;
    free = width;
    boolean waits = redirectLeft > 0;
    if (waits) {
      redirectLeft--;
    }
    if (missLeft > 0) {
      missLeft--;
      if (missLeft == 0 && !missUseless) {
        deliver();
      }
      return;
    }
    missUseless = false;
    if (!waits && queueBytes - queued >= window - (int) (place & (window - 1))) {
      read();
    }
  }

  private void read() {
    windows++;
    if (cache == null || cache.access(place)) {
      deliver();
      return;
    }
    misses++;
    missLeft = missCycles;
    if (missLeft == 0) {
      deliver();
    }
  }

  private void deliver() {
    int bytes = window - (int) (place & (window - 1));
    queued += bytes;
    place = (place + bytes) & mask;
  }

  /**
   * Ends the program and returns what it took; no instruction may follow.
   *
   * @return the same at every call
   */
  public Throughput finish() {
    if (!finished && instructions > 0) {
      branchSlots += free;
      cycles++;
    }
    finished = true;
    Map<Throughput.SlotUse, Long> slots = new EnumMap<>(Throughput.SlotUse.class);
    slots.put(Throughput.SlotUse.INSTRUCTION, instructions);
    slots.put(Throughput.SlotUse.PREFIX, prefixSlots);
    slots.put(Throughput.SlotUse.SLOW_PATH, slowSlots);
    slots.put(Throughput.SlotUse.TAKEN_BRANCH, branchSlots);
    slots.put(Throughput.SlotUse.MISS, missSlots);
    slots.put(Throughput.SlotUse.DELIVERY, deliverySlots);
    return new Throughput(instructions, cycles, width, slots, windows, misses);
  }
}

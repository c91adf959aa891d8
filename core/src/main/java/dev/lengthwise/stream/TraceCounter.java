package dev.lengthwise.stream;

import java.util.Arrays;
import java.util.Locale;
import java.util.SplittableRandom;

/**
 * Counts how often each distinct instruction of a trace was executed, at 16 bytes for each slot of
 * a table at most half full.
 *
 * <p>Where an instruction lies depends on numbers that are drawn anew for each counter, so no trace
 * can be made whose instructions get in each other's way; what is counted does not depend on them.
 */
public final class TraceCounter implements TraceSink {

  /** The bits of a slot's second word that count; the bits above hold the length. */
  private static final int COUNT_BITS = 57;

  private static final long COUNT_MASK = (1L << COUNT_BITS) - 1;

  /**
   * The slots from its group on in which an instruction is looked for first; twice the entries of a
   * group whose every address is counted once.
   */
  private static final int NEAR = 64;

  private static final SplittableRandom KEYS = new SplittableRandom();

  /** Two words a slot: the address, then length and count; a second word of 0 is a free slot. */
  private long[] slots = new long[2 << 12];

  private final long key;
  private int distinct;

  /** Makes a counter that has counted nothing. */
  public TraceCounter() {
    this(newKey());
  }

  /** Makes a counter whose slots follow from a key. */
  TraceCounter(long key) {
    this.key = key | 1;
  }

  private static long newKey() {
    synchronized (KEYS) {
      return KEYS.nextLong();
    }
  }

  /**
   * Counts an instruction.
   *
   * @param address its address
   * @param length its length in bytes, in [1, {@value TraceCounts#LONGEST}]
   * @throws IllegalArgumentException if the length is out of range
   * @throws IllegalStateException if there are more than {@value TraceCounts#MOST_DISTINCT}
   *     distinct instructions
   */
  @Override
  public void instruction(long address, int length) {
    int slot = find(address, length);
    if (slots[slot + 1] == 0) {
      addNew(slot, address, length);
    } else {
      slots[slot + 1]++;
    }
  }

  /**
   * Returns the slot of an instruction, or the free one where it belongs. It is near its group, or
   * if there is no room, as where many lengths were counted at each address, from a slot on that
   * follows from address and length together.
   */
  private int find(long address, int length) {
    int slot = slotOf(address);
    for (int i = 0; i < NEAR; i++) {
      if (slots[slot + 1] == 0 || isAt(slot, address, length)) {
        return slot;
      }
      slot = slot + 2 & slots.length - 1;
    }
    slot = farSlotOf(address, length);
    while (slots[slot + 1] != 0 && !isAt(slot, address, length)) {
      slot = slot + 2 & slots.length - 1;
    }
    return slot;
  }

  private boolean isAt(int slot, long address, int length) {
    return slots[slot] == address && slots[slot + 1] >>> COUNT_BITS == length;
  }

  /** Returns the logarithm of the number of slots. */
  private int slotBits() {
    return Integer.numberOfTrailingZeros(slots.length) - 1;
  }

  /** Mixes a value with the key; the upper bits of the product are the better ones. */
  private long mixed(long value) {
    long product = (value ^ key >>> 7) * key;
    return (product ^ product >>> 32) * key;
  }

  /**
   * Returns where the search for an address starts. What is executed together lies together: each
   * 32 bytes of code share 8 slots.
   */
  private int slotOf(long address) {
    return (group(address) << 3 | (int) (address >>> 2) & 7) << 1;
  }

  /** Returns the group of 8 slots of the 32 bytes that an address is in. */
  int group(long address) {
    return (int) (mixed(address >>> 5) >>> Long.SIZE - (slotBits() - 3));
  }

  /** Returns where the search goes on if there is no room near the group. */
  private int farSlotOf(long address, int length) {
    return (int) (mixed(address ^ (long) length << 56) >>> Long.SIZE - slotBits()) << 1;
  }

  private void addNew(int slot, long address, int length) {
    TraceCounts.checkLength(length);
    if (distinct == TraceCounts.MOST_DISTINCT) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "trace: at most %d distinct instructions are counted, found a further one at 0x%x",
              TraceCounts.MOST_DISTINCT,
              address));
    }
    slots[slot] = address;
    slots[slot + 1] = (long) length << COUNT_BITS | 1;
    distinct++;
    if (4L * distinct > slots.length) {
      grow();
    }
  }

  private void grow() {
    long[] old = slots;
    slots = new long[2 * old.length];
    for (int i = 0; i < old.length; i += 2) {
      if (old[i + 1] != 0) {
        int slot = find(old[i], (int) (old[i + 1] >>> COUNT_BITS));
        slots[slot] = old[i];
        slots[slot + 1] = old[i + 1];
      }
    }
  }

  /**
   * Returns what was counted up to now.
   *
   * @return the counts; later instructions do not change them
   */
  public TraceCounts counts() {
    long[] addresses = new long[distinct];
    int found = 0;
    for (int slot = 0; slot < slots.length; slot += 2) {
      if (slots[slot + 1] != 0) {
        addresses[found++] = slots[slot] ^ Long.MIN_VALUE; // sorts as unsigned
      }
    }
    Arrays.sort(addresses);
    byte[] lengths = new byte[distinct];
    long[] counts = new long[distinct];
    int i = 0;
    while (i < distinct) {
      int end = i + 1;
      while (end < distinct && addresses[end] == addresses[i]) {
        end++;
      }
      readOut(addresses[i] ^ Long.MIN_VALUE, lengths, counts, i, end);
      i = end;
    }
    for (int j = 0; j < distinct; j++) {
      addresses[j] ^= Long.MIN_VALUE;
    }
    return new TraceCounts(addresses, lengths, counts);
  }

  /** Reads the entries of one address, shortest first. */
  private void readOut(long address, byte[] lengths, long[] counts, int from, int to) {
    int slot = slotOf(address);
    int filled = from;
    for (int i = 0; i < NEAR && filled < to; i++) {
      if (slots[slot] == address && slots[slot + 1] != 0) {
        int place = filled++;
        byte length = (byte) (slots[slot + 1] >>> COUNT_BITS);
        while (place > from && lengths[place - 1] > length) {
          lengths[place] = lengths[place - 1];
          counts[place] = counts[place - 1];
          place--;
        }
        lengths[place] = length;
        counts[place] = slots[slot + 1] & COUNT_MASK;
      }
      slot = slot + 2 & slots.length - 1;
    }
    if (filled < to) { // some lie elsewhere, so every length is looked for
      filled = from;
      for (int length = 1; length <= TraceCounts.LONGEST; length++) {
        long word = slots[find(address, length) + 1];
        if (word != 0) {
          lengths[filled] = (byte) length;
          counts[filled++] = word & COUNT_MASK;
        }
      }
    }
  }

  /** Returns how many slots the search for each distinct instruction looks at, in all. */
  long looks() {
    long looks = 0;
    for (int at = 0; at < slots.length; at += 2) {
      if (slots[at + 1] != 0) {
        int from = slotOf(slots[at]);
        int near = (at - from & slots.length - 1) / 2 + 1;
        if (near > NEAR) {
          from = farSlotOf(slots[at], (int) (slots[at + 1] >>> COUNT_BITS));
          near = NEAR + (at - from & slots.length - 1) / 2 + 1;
        }
        looks += near;
      }
    }
    return looks;
  }
}

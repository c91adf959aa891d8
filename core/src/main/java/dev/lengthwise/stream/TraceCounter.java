package dev.lengthwise.stream;

import java.util.Arrays;
import java.util.Locale;

/**
 * Counts how often each distinct instruction of a trace was executed, at 16 bytes for each slot of
 * a table at most half full.
 */
public final class TraceCounter implements TraceSink {

  private static final long GOLDEN_RATIO = 0x9e3779b97f4a7c15L;

  /** The bits of a slot's second word that count; the bits above hold the length. */
  private static final int COUNT_BITS = 57;

  private static final long COUNT_MASK = (1L << COUNT_BITS) - 1;

  /** Two words a slot: the address, then length and count; a second word of 0 is a free slot. */
  private long[] slots = new long[2 << 12];

  private int distinct;

  /** Makes a counter that has counted nothing. */
  public TraceCounter() {}

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
    int slot = slotOf(address);
    while (true) {
      long word = slots[slot + 1];
      if (word == 0) {
        addNew(slot, address, length);
        return;
      }
      if (slots[slot] == address && word >>> COUNT_BITS == length) {
        slots[slot + 1] = word + 1;
        return;
      }
      slot = slot + 2 & slots.length - 1;
    }
  }

  /**
   * Returns where the search for an address starts; all its lengths are found from there on. What
   * is executed together lies together: each 32 bytes of code share 8 slots.
   */
  private int slotOf(long address) {
    int bits = Integer.numberOfTrailingZeros(slots.length) - 4;
    int group = (int) ((address >>> 5) * GOLDEN_RATIO >>> Long.SIZE - bits);
    return (group << 3 | (int) (address >>> 2) & 7) << 1;
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
        int slot = slotOf(old[i]);
        while (slots[slot + 1] != 0) {
          slot = slot + 2 & slots.length - 1;
        }
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

  /** Reads the entries of one address, shortest first; there are few. */
  private void readOut(long address, byte[] lengths, long[] counts, int from, int to) {
    int slot = slotOf(address);
    int filled = from;
    while (filled < to) {
      long word = slots[slot + 1];
      if (slots[slot] == address && word != 0) {
        int place = filled++;
        byte length = (byte) (word >>> COUNT_BITS);
        while (place > from && lengths[place - 1] > length) {
          lengths[place] = lengths[place - 1];
          counts[place] = counts[place - 1];
          place--;
        }
        lengths[place] = length;
        counts[place] = word & COUNT_MASK;
      }
      slot = slot + 2 & slots.length - 1;
    }
  }
}

package dev.lengthwise.study.fetch;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;

/**
 * Instructions per cycle, and where the cycles went.
 *
 * @param instructions the instructions decoded
 * @param cycles the cycles they took
 * @param decoderWidth the decoder's slots in a cycle
 * @param slots what became of the slots, each use present; in sum cycles times width
 * @param windows the windows that were read, also those that a taken branch made useless
 * @param misses the windows among them that missed the cache
 */
public record Throughput(
    long instructions,
    long cycles,
    int decoderWidth,
    Map<SlotUse, Long> slots,
    long windows,
    long misses) {

  /**
   * Copies the map.
   *
   * @param instructions see Throughput
   * @param cycles see Throughput
   * @param decoderWidth see Throughput
   * @param slots see Throughput
   * @param windows see Throughput
   * @param misses see Throughput
   * @throws IllegalArgumentException if the slots do not sum to cycles times width
   */
  public Throughput {
    EnumMap<SlotUse, Long> all = new EnumMap<>(SlotUse.class);
    for (SlotUse use : SlotUse.values()) {
      all.put(use, slots.getOrDefault(use, 0L));
    }
    slots = Collections.unmodifiableMap(all);
    long sum = slots.values().stream().mapToLong(Long::longValue).sum();
    if (sum != cycles * decoderWidth) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "throughput: slots must sum to %d cycles of %d slots, found %d",
              cycles,
              decoderWidth,
              sum));
    }
  }

  /**
   * Returns the instructions per cycle.
   *
   * @return 0 if there was no cycle
   */
  public double ipc() {
    return cycles == 0 ? 0 : instructions / (double) cycles;
  }

  /**
   * Returns the cycles that a use of slots stands for.
   *
   * @param use the use
   * @return slots by decoder width; over all uses, the sum is {@link #cycles()}
   */
  public double cycles(SlotUse use) {
    return slots.get(use) / (double) decoderWidth;
  }

  /**
   * What became of a decoder slot: a decoder of n items has n slots in each cycle, and each has one
   * use. {@link FetchModel} says which.
   */
  public enum SlotUse {
    /** An instruction's last item, or an instruction that the slow path decides, was decoded. */
    INSTRUCTION("instruction"),
    /** A prefix was decoded as an item of its own. */
    PREFIX("prefix"),
    /** The decoder waited for the slow path. */
    SLOW_PATH("slow_path"),
    /** The item did not stand in the queue because of a taken branch. */
    TAKEN_BRANCH("taken_branch"),
    /** The item did not stand in the queue because the cache was filling a line. */
    MISS("miss"),
    /** The item did not stand in the queue because windows bring too few bytes. */
    DELIVERY("delivery");

    private final String label;

    SlotUse(String label) {
      this.label = label;
    }

    /**
     * Returns the name in tables.
     *
     * @return lower snake case
     */
    public String label() {
      return label;
    }
  }
}

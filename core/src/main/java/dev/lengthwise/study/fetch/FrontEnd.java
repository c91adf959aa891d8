package dev.lengthwise.study.fetch;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.table.DescriptionException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;

/**
 * The sizes and delays of a processor's front end, for {@link FetchModel}.
 *
 * <p>Immutable; equal when the parts are equal.
 *
 * @param windowBytes the bytes of an aligned fetch window, a power of two in [1, {@value
 *     #MOST_WINDOW}]
 * @param queueBytes the bytes that the queue before the decoder holds, in [window, {@value
 *     #MOST_QUEUE}]
 * @param decoderWidth the items decoded in a cycle, in [1, {@value #MOST_WIDTH}]
 * @param slowCycles the cycles that the decoder waits after an instruction that lanes do not
 *     handle, in [0, {@value #MOST_CYCLES}]
 * @param redirectCycles the cycles that fetch waits after a taken branch, in [0, {@value
 *     #MOST_CYCLES}]
 * @param missCycles the cycles by which a miss delays a window, in [0, {@value #MOST_CYCLES}]
 * @param cache the cache, with the same window; empty if every access hits
 */
public record FrontEnd(
    int windowBytes,
    int queueBytes,
    int decoderWidth,
    int slowCycles,
    int redirectCycles,
    int missCycles,
    Optional<InstructionCache> cache) {

  /** The longest window, in bytes. */
  public static final int MOST_WINDOW = CacheGeometry.MOST_WINDOW;

  /** The deepest queue, in bytes. */
  public static final int MOST_QUEUE = 4096;

  /** The widest decoder, in items. */
  public static final int MOST_WIDTH = 32;

  /** The longest delay, in cycles. */
  public static final int MOST_CYCLES = 10_000;

  /**
   * Checks all that {@link Builder#build()} checks.
   *
   * @param windowBytes see FrontEnd
   * @param queueBytes see FrontEnd
   * @param decoderWidth see FrontEnd
   * @param slowCycles see FrontEnd
   * @param redirectCycles see FrontEnd
   * @param missCycles see FrontEnd
   * @param cache see FrontEnd
   * @throws IllegalArgumentException if a number is out of range
   * @throws DescriptionException if parts contradict each other
   */
  public FrontEnd {
    requireWindow(windowBytes);
    requireRange("the queue", "bytes", queueBytes, 1, MOST_QUEUE);
    requireRange("the decoder", "items", decoderWidth, 1, MOST_WIDTH);
    requireRange("the slow path", "cycles", slowCycles, 0, MOST_CYCLES);
    requireRange("a redirect", "cycles", redirectCycles, 0, MOST_CYCLES);
    requireRange("a miss", "cycles", missCycles, 0, MOST_CYCLES);
    Objects.requireNonNull(cache, "cache");
    List<String> faults = new ArrayList<>();
    if (queueBytes < windowBytes) {
      faults.add(
          String.format(
              Locale.ROOT,
              "front end: the queue must hold a window of %d bytes, found %d",
              windowBytes,
              queueBytes));
    }
    if (cache.isPresent() && cache.get().geometry().windowBytes() != windowBytes) {
      faults.add(
          String.format(
              Locale.ROOT,
              "front end: the window must be that of the cache, %d bytes, found %d",
              cache.get().geometry().windowBytes(),
              windowBytes));
    }
    DescriptionException.throwIfAny(faults);
  }

  /**
   * Starts a front end that decodes one item in a cycle, has a queue of twice the window and 16
   * bytes more, waits 4 cycles for the slow path, 1 after a taken branch and 10 for a miss, and
   * always hits.
   *
   * @param windowBytes the bytes of a fetch window, a power of two in [1, {@value #MOST_WINDOW}]
   * @return a builder
   * @throws IllegalArgumentException if the window is no such size
   */
  public static Builder builder(int windowBytes) {
    return new Builder(requireWindow(windowBytes));
  }

  /**
   * Starts a copy; what is not given again stays as it is.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /**
   * Returns the longest instruction that the queue takes wherever it lies in its windows.
   *
   * @return bytes, at least 1
   */
  public int longestInstruction() {
    return queueBytes - windowBytes + 1;
  }

  private static int requireWindow(int bytes) {
    requireRange("a window", "bytes", bytes, 1, MOST_WINDOW);
    if (Integer.bitCount(bytes) != 1) {
      throw new IllegalArgumentException(
          "front end: the bytes of a window must be a power of two, found " + bytes);
    }
    return bytes;
  }

  private static int requireRange(String what, String unit, int value, int least, int most) {
    if (value < least || value > most) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "front end: the %s of %s must be in [%d, %d], found %d",
              unit,
              what,
              least,
              most,
              value));
    }
    return value;
  }

  /** Collects the parts of a front end. */
  public static final class Builder {

    private final int windowBytes;
    private final Map<String, Object> given = new LinkedHashMap<>();
    private final Map<String, Object> kept = new LinkedHashMap<>();

    private Builder(int windowBytes) {
      this.windowBytes = windowBytes;
    }

    private Builder(FrontEnd frontEnd) {
      this(frontEnd.windowBytes);
      kept.put("the queue", frontEnd.queueBytes);
      kept.put("the decoder", frontEnd.decoderWidth);
      kept.put("the slow path", frontEnd.slowCycles);
      kept.put("a redirect", frontEnd.redirectCycles);
      kept.put("a miss", frontEnd.missCycles);
      frontEnd.cache.ifPresent(cache -> kept.put("the cache", cache));
    }

    /**
     * Sets the depth of the queue.
     *
     * @param bytes in [window, {@value FrontEnd#MOST_QUEUE}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder queue(int bytes) {
      return give("the queue", "bytes", bytes, windowBytes, MOST_QUEUE);
    }

    /**
     * Sets the width of the decoder.
     *
     * @param items in [1, {@value FrontEnd#MOST_WIDTH}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder decoder(int items) {
      return give("the decoder", "items", items, 1, MOST_WIDTH);
    }

    /**
     * Sets how long the decoder waits after an instruction that lanes do not handle.
     *
     * @param cycles in [0, {@value FrontEnd#MOST_CYCLES}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder slowPath(int cycles) {
      return give("the slow path", "cycles", cycles, 0, MOST_CYCLES);
    }

    /**
     * Sets how long fetch waits after a taken branch.
     *
     * @param cycles in [0, {@value FrontEnd#MOST_CYCLES}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder redirect(int cycles) {
      return give("a redirect", "cycles", cycles, 0, MOST_CYCLES);
    }

    /**
     * Sets the cache, and how long a miss delays a window.
     *
     * @param cache the cache
     * @param missCycles in [0, {@value FrontEnd#MOST_CYCLES}]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder cache(InstructionCache cache, int missCycles) {
      give("a miss", "cycles", missCycles, 0, MOST_CYCLES);
      given.put("the cache", Objects.requireNonNull(cache, "cache"));
      return this;
    }

    /**
     * Builds the front end.
     *
     * @return the front end
     * @throws DescriptionException if parts contradict each other
     */
    public FrontEnd build() {
      Map<String, Object> set = new LinkedHashMap<>(kept);
      set.putAll(given);
      return new FrontEnd(
          windowBytes,
          (Integer) set.getOrDefault("the queue", 2 * windowBytes + 16),
          (Integer) set.getOrDefault("the decoder", 1),
          (Integer) set.getOrDefault("the slow path", 4),
          (Integer) set.getOrDefault("a redirect", 1),
          (Integer) set.getOrDefault("a miss", 10),
          Optional.ofNullable((InstructionCache) set.get("the cache")));
    }

    private Builder give(String what, String unit, int value, int least, int most) {
      Object before = given.putIfAbsent(what, requireRange(what, unit, value, least, most));
      if (before != null) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "front end: %s is given once, found %d after %s",
                what,
                value,
                before));
      }
      return this;
    }
  }
}

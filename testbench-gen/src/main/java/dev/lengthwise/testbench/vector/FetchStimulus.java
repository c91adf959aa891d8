package dev.lengthwise.testbench.vector;

import dev.lengthwise.cache.FetchClock;
import dev.lengthwise.cache.FetchUnit;
import java.util.SplittableRandom;

/**
 * Drives a fetch unit at random: a program of loops and jumps in a few times the cache's capacity,
 * with stalls, flushes, and a memory of varying delay.
 *
 * <p>Each fill brings bytes of its own, so that bytes of another line, or of an earlier fill of the
 * same one, show.
 */
final class FetchStimulus {

  private static final int MOST_DELAY = 24;

  private final SplittableRandom random;
  private final int[] prefixes;
  private final int modeWords;
  private final long range;
  private final long mask;
  private final byte[] beat;
  private long target;
  private int calm;
  private int delay;
  private boolean wasFilling;
  private FetchClock.Inputs inputs;

  FetchStimulus(FetchUnit unit, long seed) {
    this.random = new SplittableRandom(seed);
    this.prefixes =
        unit.row().lane().instructionSet().prefixes().prefixes().keySet().stream()
            .mapToInt(Integer::intValue)
            .filter(code -> code < 256)
            .toArray();
    this.modeWords = 1 << unit.row().lane().instructionSet().table().modes().size();
    this.range = 3L * unit.cache().geometry().capacityBytes();
    this.mask = -1L >>> (Long.SIZE - unit.cache().geometry().addressBits());
    this.beat = new byte[unit.beatBytes()];
  }

  /** Chooses the inputs of the next cycle, after the last one left the clock as it is. */
  void next(FetchClock clock) {
    boolean filling = clock.isFilling();
    if (filling && !wasFilling) {
      delay = random.nextInt(4) == 0 ? random.nextInt(MOST_DELAY) : random.nextInt(3);
    }
    wasFilling = filling;
    delay--;
    boolean beatValid = filling ? delay < 0 && random.nextInt(4) > 0 : random.nextInt(8) == 0;
    random.nextBytes(beat);
    if (prefixes.length > 0 && random.nextInt(4) == 0) {
      beat[random.nextInt(beat.length)] = (byte) prefixes[random.nextInt(prefixes.length)];
    }
    calm--;
    // A row that waits for a redirect gets one soon, others after a while; some come in pairs.
    boolean redirect = random.nextInt(clock.isWaiting() ? 8 : calm < 0 ? 6 : 48) == 0;
    if (redirect) {
      target = target();
      calm = random.nextInt(48);
    }
    inputs =
        new FetchClock.Inputs(
            random.nextInt(8) == 0,
            redirect,
            target,
            random.nextInt(modeWords),
            random.nextInt(96) == 0,
            random.nextInt(8) == 0,
            (target + random.nextLong(range) * random.nextInt(2)) & mask,
            random.nextInt(4) > 0,
            beatValid);
  }

  /** Near the last target, somewhere, or at the end of the address space. */
  private long target() {
    int kind = random.nextInt(16);
    if (kind == 0) {
      return -random.nextLong(64) & mask;
    }
    return (kind < 9 ? target - 64 + random.nextLong(128) : random.nextLong(range)) & mask;
  }

  FetchClock.Inputs inputs() {
    return inputs;
  }

  /** Returns the bytes from memory; filled again by the next cycle. */
  byte[] beat() {
    return beat;
  }
}

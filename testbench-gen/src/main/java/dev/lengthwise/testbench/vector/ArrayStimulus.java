package dev.lengthwise.testbench.vector;

import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.predecode.LaneArray;
import java.util.List;
import java.util.SplittableRandom;

/**
 * Drives a row of lanes: a stream of consecutive windows, interrupted by gaps, stalls and
 * redirects.
 *
 * <p>A golden function without pipeline follows the windows as they are taken, so that a redirect
 * comes as soon as the row waits for one.
 */
final class ArrayStimulus {

  /** The code that is streamed and the places that redirects lead to. */
  interface Source {

    /** Returns the bytes. */
    byte[] memory();

    /** Returns where the stream enters the code, after the end and at the beginning. */
    int entry(SplittableRandom random);

    /** Returns where an excursion leads. */
    int anywhere(SplittableRandom random);

    /** Returns where the stream goes on past an item that is not handled. */
    int past(int notHandled, SplittableRandom random);

    /** Returns the modes of the code at a place, behind a redirect to it. */
    int modes(int place, SplittableRandom random);

    /** Returns where the stream goes on if it has run past the code before a window, or -1. */
    int behind(int window, SplittableRandom random);
  }

  private static final int BYTES = 1 << 16;

  private final int windowBytes;
  private final Source source;
  private final SplittableRandom random;
  private final ArrayModel follower;

  private int window;
  private int redirect = ArrayModel.NO_REDIRECT;

  /** The redirect with which the window was offered first. */
  private int entered = ArrayModel.NO_REDIRECT;

  private int modes;
  private boolean valid;
  private boolean stall;
  private int returnTo = -1;
  private int stay;

  ArrayStimulus(LaneArray array, Source source, long seed) {
    this.windowBytes = array.windowBytes();
    this.source = source;
    this.random = new SplittableRandom(seed);
    this.follower = ArrayModel.of(array);
    go(source.entry(random));
  }

  static Source random(LaneArray array, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    byte[] memory = new byte[BYTES];
    int[] prefixes =
        array.lane().instructionSet().prefixes().prefixes().keySet().stream()
            .mapToInt(Integer::intValue)
            .toArray();
    var unit = array.lane().instructionSet().table().unit();
    random.nextBytes(memory);
    for (int i = 0; i + unit.bytes() <= BYTES && prefixes.length > 0; i += unit.bytes()) {
      if (random.nextInt(8) == 0) {
        unit.write(prefixes[random.nextInt(prefixes.length)], memory, i);
      }
    }
    int modeWords = 1 << array.lane().instructionSet().table().modes().size();
    return new Source() {
      @Override
      public byte[] memory() {
        return memory;
      }

      @Override
      public int entry(SplittableRandom choice) {
        return choice.nextInt(BYTES);
      }

      @Override
      public int anywhere(SplittableRandom choice) {
        return choice.nextInt(BYTES);
      }

      @Override
      public int past(int notHandled, SplittableRandom choice) {
        return notHandled + 1 + choice.nextInt(3);
      }

      @Override
      public int modes(int place, SplittableRandom choice) {
        return choice.nextInt(modeWords);
      }

      @Override
      public int behind(int window, SplittableRandom choice) {
        return window < BYTES ? -1 : choice.nextInt(BYTES);
      }
    };
  }

  static Source walk(List<ArrayVectors.Code> codes) {
    return new CodeWalk(codes);
  }

  /** Chooses the inputs of the next cycle. */
  void next() {
    valid = random.nextInt(16) > 0;
    stall = random.nextInt(16) == 0;
  }

  /** Goes on after a cycle in which the window offered was taken or not. */
  void settle(boolean ready) {
    if (!valid || stall) {
      return;
    }
    if (!ready) {
      redirect = ArrayModel.NO_REDIRECT;
      return;
    }
    int notHandled = follow();
    redirect = ArrayModel.NO_REDIRECT;
    entered = ArrayModel.NO_REDIRECT;
    boolean lost = follower.isWaiting() || !follower.isStateKnown();
    if (returnTo >= 0) {
      excursion(lost);
    } else if (notHandled >= 0) {
      go(source.past(window + notHandled, random));
    } else if (lost) {
      go(source.anywhere(random));
    } else if (follower.changedModes() == 0 && random.nextInt(64) == 0) {
      returnTo = window + windowBytes + follower.carry();
      stay = 1 + random.nextInt(8);
      go(source.anywhere(random));
    } else {
      advance();
    }
  }

  /** Takes the follower through the window; returns the offset that is not handled, or less. */
  private int follow() {
    follower.step(modes, memory(), window, entered);
    int notHandled = follower.notHandled();
    while (!follower.isUsed()) {
      follower.step(modes, memory(), window, ArrayModel.NO_REDIRECT);
      notHandled = Math.max(notHandled, follower.notHandled());
    }
    return notHandled;
  }

  private void excursion(boolean lost) {
    stay--;
    if (stay > 0 && !lost) {
      advance();
    } else {
      int back = returnTo;
      returnTo = -1;
      go(back);
    }
  }

  private void advance() {
    window += windowBytes;
    int elsewhere = source.behind(window, random);
    if (elsewhere >= 0) {
      go(elsewhere);
    }
  }

  /** Redirects to a place in the code. */
  private void go(int target) {
    int place = target < memory().length ? target : source.entry(random);
    window = place / windowBytes * windowBytes;
    redirect = place - window;
    entered = redirect;
    modes = source.modes(place, random);
  }

  byte[] memory() {
    return source.memory();
  }

  int offset() {
    return window;
  }

  int redirect() {
    return redirect;
  }

  int modes() {
    return modes;
  }

  boolean valid() {
    return valid;
  }

  boolean stall() {
    return stall;
  }
}

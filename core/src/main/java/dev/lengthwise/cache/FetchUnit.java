package dev.lengthwise.cache;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.table.DescriptionException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * A fetch unit: an instruction cache, the lanes at its windows, and their marks.
 *
 * <p>What it does in each cycle, as {@link FetchClock} computes it:
 *
 * <ul>
 *   <li><b>Stream.</b> After a redirect the unit looks up the window of the target, then window
 *       after window behind it, to the end of the address space and on from 0. It fetches nothing
 *       between reset and the first redirect. A redirect takes effect at the clock edge that ends
 *       its cycle: what was looked up before is dropped, and the outputs say {@code marks_valid}
 *       only of windows looked up behind it. Modes are taken over with a redirect.
 *   <li><b>Lookup.</b> In one cycle the address is at the RAMs; in the next, the window is there,
 *       or a miss is known. A window that the lanes do not take stays, with its address, as long as
 *       {@code stall} lasts; nothing is lost or repeated.
 *   <li><b>A window never crosses a line</b>, since windows lie at multiples of their size. A
 *       target inside a window is an offset in it. Lanes that look behind the window ({@link
 *       WindowEnd#NEXT_BYTES}) get it when the window behind it is there too, which may be that of
 *       the next line, and be missing first.
 *   <li><b>Miss.</b> The lowest way that is not valid, or else the one that replacement names,
 *       loses its line at once. {@code request_valid} stays, with the address of the first window
 *       wanted, until a cycle with {@code request_ready}; from the next cycle on, every cycle with
 *       {@code beat_valid} brings the next bytes: windows in the {@link FillOrder}, a window's
 *       bytes from its lowest beat up. Beats in other cycles are ignored.
 *   <li><b>During a fill</b> the unit goes on: it looks up the window wanted again and again, and
 *       finds it when it is one of those that have come, or its line is another that is valid. A
 *       second miss waits for the end of the fill and is then looked up again. So a redirect during
 *       a fill does not end the fill, whose line becomes valid; its target is looked up at once,
 *       found at once if it is there, and waits for the fill if it is not.
 *   <li><b>Accesses.</b> A window found counts as a hit in its first cycle ({@code access_hit}), a
 *       miss in the cycle that starts its fill ({@code access_miss}, with {@code access_evicts} if
 *       a valid line leaves). In this order they are the accesses of {@link CacheModel}, whose
 *       hits, misses and evictions they equal; the window of a miss is found later, and counts
 *       again.
 *   <li><b>Flush.</b> A cycle with {@code flush} and {@code flush_ready} takes over a flush of all
 *       lines or of that of an address. The window looked up last and not taken yet is dropped and
 *       looked up again; no lookup begins before the flush has been done, which waits for a fill
 *       under way and takes two cycles. A window already at the lanes is not called back: a
 *       redirect does that.
 * </ul>
 *
 * <p>Immutable; equal when the parts are equal.
 *
 * @param name the block's name in the RTL
 * @param cache the cache
 * @param row the lanes and marks; its window is that of the cache
 * @param order which window of a line memory sends first
 * @param beatBytes bytes that memory sends in a cycle, a power of two, at most a window
 */
public record FetchUnit(
    String name, InstructionCache cache, LaneArray row, FillOrder order, int beatBytes) {

  /** The most sets whose valid bits one cycle clears. */
  public static final int MOST_SETS = 1024;

  /** The most bits of a word of a way's data RAM, pre-decoded bits included. */
  public static final int MOST_WORD = 1024;

  /**
   * Checks that the parts fit each other.
   *
   * @param name see FetchUnit
   * @param cache see FetchUnit
   * @param row see FetchUnit
   * @param order see FetchUnit
   * @param beatBytes see FetchUnit
   * @throws IllegalArgumentException if the name is not legal or the beat out of range
   * @throws DescriptionException if parts contradict each other
   */
  public FetchUnit {
    HdlName.requireOfFile("fetch unit", name);
    Objects.requireNonNull(cache, "cache");
    Objects.requireNonNull(row, "row");
    Objects.requireNonNull(order, "order");
    int window = cache.geometry().windowBytes();
    if (beatBytes < 1 || beatBytes > window || Integer.bitCount(beatBytes) != 1) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "fetch unit %s: a beat must be a power of two in [1, %d] bytes, found %d",
              name,
              window,
              beatBytes));
    }
    DescriptionException.throwIfAny(faults("fetch unit " + name, name, cache, row));
  }

  /**
   * Returns a fetch unit that is filled by whole windows, in order.
   *
   * @param name a legal name
   * @param cache the cache
   * @param row the lanes and marks
   * @return the unit
   * @throws IllegalArgumentException if the name is not legal
   * @throws DescriptionException if parts contradict each other
   */
  public static FetchUnit of(String name, InstructionCache cache, LaneArray row) {
    return new FetchUnit(name, cache, row, FillOrder.IN_ORDER, cache.geometry().windowBytes());
  }

  /**
   * Returns the unit with another order of filling.
   *
   * @param value which window of a line memory sends first
   * @return a new unit
   */
  public FetchUnit withOrder(FillOrder value) {
    return new FetchUnit(name, cache, row, value, beatBytes);
  }

  /**
   * Returns the unit with other beats.
   *
   * @param value bytes that memory sends in a cycle, a power of two, at most a window
   * @return a new unit
   * @throws IllegalArgumentException if out of range
   */
  public FetchUnit withBeatBytes(int value) {
    return new FetchUnit(name, cache, row, order, value);
  }

  /**
   * Returns the width of the number of a window, its address divided by its size.
   *
   * @return bits
   */
  public int windowNumberBits() {
    return cache.geometry().addressBits()
        - Integer.numberOfTrailingZeros(cache.geometry().windowBytes());
  }

  /**
   * Tells whether a window waits for the one behind it.
   *
   * @return true if lanes look behind the window
   */
  public boolean waitsForNext() {
    return row.nextBytes() > 0;
  }

  private static List<String> faults(
      String subject, String name, InstructionCache cache, LaneArray row) {
    CacheGeometry geometry = cache.geometry();
    List<String> faults = new ArrayList<>();
    if (name.equals(row.name()) || name.equals(row.lane().name())) {
      faults.add(subject + ": unit, row and lane must not share a name, found " + name);
    }
    if (row.lane().instructionSet().table().isPort(name)) {
      faults.add(subject + ": the name must not be that of a port, found " + name);
    }
    if (row.windowBytes() != geometry.windowBytes()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: the window of the lanes must be that of the cache, %d bytes, found %d",
              subject,
              geometry.windowBytes(),
              row.windowBytes()));
    }
    if (row.nextBytes() > geometry.windowBytes()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: lanes must see at most one window more, %d bytes, found %d",
              subject,
              geometry.windowBytes(),
              row.nextBytes()));
    }
    if (geometry.sets() > MOST_SETS) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: the sets must be at most %d, found %d",
              subject,
              MOST_SETS,
              geometry.sets()));
    }
    addLaneFaults(faults, subject, cache, row);
    return faults;
  }

  /** Adds the faults of what lanes do at their place. */
  private static void addLaneFaults(
      List<String> faults, String subject, InstructionCache cache, LaneArray row) {
    if (row.marking().isOfferedAgain() && row.lane().undefinedRows() == UndefinedRows.ANYTHING) {
      faults.add(
          subject
              + ": a window that may be offered again needs undefined rows that are not handled,"
              + " found anything");
    }
    if (row.entryPlan().isPresent()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: marks by entry are for rows alone, as a fetch unit follows at most two cycles of"
                  + " marks, found %d",
              subject,
              row.latency()));
    }
    if (!(cache.predecode() instanceof PredecodePlace.Inline)
        && row.end() == WindowEnd.NEXT_BYTES
        && row.nextBytes() > 0) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: lanes that look behind the window must be inline, found %s",
              subject,
              cache.predecode().label()));
    }
    if (cache.predecode() instanceof PredecodePlace.OnFill fill
        && fill.bitsPerByte() != row.answerBits()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: what the lanes say on fill must be stored, %d bits for a byte, found %d",
              subject,
              row.answerBits(),
              fill.bitsPerByte()));
    }
    int word = cache.geometry().windowBytes() * (8 + cache.predecode().storedBits());
    if (word > MOST_WORD) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: a window with what is stored of it must have at most %d bits, found %d",
              subject,
              MOST_WORD,
              word));
    }
    if (cache.predecode() instanceof PredecodePlace.OnFill
        && Integer.bitCount(row.lateModes()) < row.lane().instructionSet().table().modes().size()) {
      faults.add(
          String.format(
              Locale.ROOT,
              "%s: lanes on fill must not depend on modes that no prefix of one unit changes, found"
                  + " %s",
              subject,
              row.lane().instructionSet().table().modes()));
    }
  }
}

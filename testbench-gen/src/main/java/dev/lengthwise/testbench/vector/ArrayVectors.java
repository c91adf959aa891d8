package dev.lengthwise.testbench.vector;

import dev.lengthwise.golden.ArrayClock;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.testbench.cycle.ArrayFields;
import dev.lengthwise.testbench.cycle.CycleFields;
import dev.lengthwise.testbench.cycle.CycleLines;
import dev.lengthwise.testbench.cycle.HexLine;
import java.io.IOException;
import java.util.BitSet;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * Golden vectors of a row of lanes: cycle by cycle, the inputs and what the outputs then are.
 *
 * <p>Code is streamed through consecutive windows, with gaps, stalls and redirects at random, and a
 * redirect wherever the row waits for one.
 */
public final class ArrayVectors {

  /** Cycles of random code if the user asks for no other number. */
  public static final int RANDOM = 10_000;

  private final ArrayFields fields;
  private final ArrayStimulus.Source source;
  private final int cycles;
  private final long seed;

  private ArrayVectors(LaneArray array, ArrayStimulus.Source source, int cycles, long seed) {
    this.fields = new ArrayFields(array);
    this.source = Objects.requireNonNull(source, "source");
    this.seed = seed;
    this.cycles = cycles;
    if (cycles < 1) {
      throw new IllegalArgumentException(
          "vectors of " + array.name() + ": cycles must be at least 1, found " + cycles);
    }
  }

  /**
   * Makes vectors of random code, rich in prefixes, entered anywhere under random modes.
   *
   * @param array the row
   * @param cycles the cycles, at least 1
   * @param seed the seed of all random choices
   * @return the vectors
   * @throws IllegalArgumentException if there is no cycle
   */
  public static ArrayVectors random(LaneArray array, int cycles, long seed) {
    return new ArrayVectors(array, ArrayStimulus.random(array, seed), cycles, seed);
  }

  /** A run of known code: bytes, where instructions start, and modes. Immutable. */
  public static final class Code {

    private final byte[] bytes;
    private final int[] boundaries;
    private final int modes;

    private Code(byte[] bytes, int[] boundaries, int modes) {
      this.bytes = bytes.clone();
      this.boundaries = boundaries.clone();
      this.modes = modes;
    }

    /**
     * Returns a run of code.
     *
     * @param bytes the bytes; copied
     * @param boundaries where instructions start, ascending, at least one; copied
     * @param modes the modes of the code; mode i is bit i
     * @return the run
     * @throws IllegalArgumentException if there is no boundary
     */
    public static Code of(byte[] bytes, int[] boundaries, int modes) {
      if (boundaries.length == 0) {
        throw new IllegalArgumentException("code: a boundary is needed, found none");
      }
      return new Code(bytes, boundaries, modes);
    }

    byte[] bytes() {
      return bytes;
    }

    int[] boundaries() {
      return boundaries;
    }

    int modes() {
      return modes;
    }
  }

  /**
   * Makes vectors of known code, walked run after run from the first boundary on and then again,
   * with excursions to random boundaries; an item that is not handled is passed over to the next
   * boundary.
   *
   * @param array the row
   * @param codes the runs of code, at least one
   * @param cycles the cycles, at least 1
   * @param seed the seed of all random choices
   * @return the vectors
   * @throws IllegalArgumentException if there is no cycle or no code
   */
  public static ArrayVectors walk(LaneArray array, List<Code> codes, int cycles, long seed) {
    if (codes.isEmpty()) {
      throw new IllegalArgumentException(
          "vectors of " + array.name() + ": code is needed, found none");
    }
    return new ArrayVectors(array, ArrayStimulus.walk(codes), cycles, seed);
  }

  /** Returns the fields of a cycle. */
  ArrayFields fields() {
    return fields;
  }

  /**
   * Writes the vectors as text: a line with the number of cycles, then a line of hexadecimal digits
   * for each cycle, whose fields are stated in the bench.
   *
   * @param text where to write
   * @return what the cycles cover
   * @throws IOException if {@code text} throws it
   */
  public Coverage writeTo(Appendable text) throws IOException {
    text.append(String.format(Locale.ROOT, "%08x", cycles)).append('\n');
    Run run = new Run();
    for (int cycle = 0; cycle < cycles; cycle++) {
      text.append(run.next()).append('\n');
    }
    return run.coverage;
  }

  /**
   * Returns the number of cycles.
   *
   * @return cycles
   */
  public int cycles() {
    return cycles;
  }

  /** Starts a run through the cycles, from the first. */
  CycleLines run() {
    return new Run();
  }

  /** The cycles one after another. */
  final class Run implements CycleLines {

    private final ArrayStimulus stimulus = new ArrayStimulus(fields.array(), source, seed);
    private final ArrayClock clock = ArrayClock.of(fields.array());
    private final Coverage coverage = new Coverage(fields.array());
    private final HexLine line = new HexLine(fields.wordBits() / 4);

    private Run() {}

    /** Returns the fields of the next cycle; the object is filled again by the next call. */
    @Override
    public HexLine next() {
      stimulus.next();
      if (stimulus.valid()) {
        clock.offer(stimulus.modes(), stimulus.memory(), stimulus.offset(), stimulus.redirect());
      }
      ArrayClock.Marks marks = clock.cycle(stimulus.stall());
      line.clear();
      write(line, clock, marks, stimulus);
      coverage.add(clock, marks, stimulus);
      stimulus.settle(clock.isReady());
      return line;
    }
  }

  private void write(HexLine line, ArrayClock clock, ArrayClock.Marks marks, ArrayStimulus in) {
    boolean answers = marks.isValid() && marks.isKnown();
    line.number(
        (clock.isStateKnown() ? 1 : 0)
            | (marks.isKnown() ? 2 : 0)
            | (in.valid() && clock.isReadyKnown() ? 4 : 0)
            | (answers ? 8 : 0),
        8);
    for (CycleFields.Output output : fields.outputs()) {
      line.number(value(output.port(), clock, marks), output.width());
    }
    for (CycleFields.Input input : fields.inputs()) {
      switch (input.port()) {
        case "valid" -> line.number(in.valid() ? 1 : 0, 1);
        case "stall" -> line.number(in.stall() ? 1 : 0, 1);
        case "redirect" -> line.number(in.redirect() >= 0 ? 1 : 0, 1);
        case "redirect_offset" -> line.number(Math.max(0, in.redirect()), input.width());
        case "next_code" ->
            line.bytes(in.memory(), in.offset() + fields.array().windowBytes(), input.width() / 8);
        case "window" -> line.bytes(in.memory(), in.offset(), input.width() / 8);
        default -> {
          int mode = fields.array().lane().instructionSet().table().modes().indexOf(input.port());
          line.number(in.modes() >> mode & 1, 1);
        }
      }
    }
  }

  private long value(String port, ArrayClock clock, ArrayClock.Marks marks) {
    return switch (port) {
      case "carry" -> clock.carry();
      case "changed_modes" -> compact(clock.changedModes(), fields.array().lateModes());
      case "waiting" -> clock.isWaiting() ? 1 : 0;
      case "ready" -> clock.isReady() ? 1 : 0;
      case "marks_valid" -> marks.isValid() ? 1 : 0;
      default -> mark(port, marks);
    };
  }

  /** Returns the value of an output that speaks of a window. */
  static long mark(String port, ArrayClock.Marks marks) {
    return switch (port) {
      case "not_handled" -> marks.isValid() && marks.notHandled() >= 0 ? 1 : 0;
      case "not_handled_offset" -> marks.isValid() ? Math.max(0, marks.notHandled()) : 0;
      case "start" -> marks.isValid() ? Integer.toUnsignedLong(marks.starts()) : 0;
      default -> slot(port, marks);
    };
  }

  private static long slot(String port, ArrayClock.Marks marks) {
    int index = Integer.parseInt(port.substring(port.indexOf('_') + 1));
    if (!marks.isValid() || index >= marks.count()) {
      return 0;
    }
    return port.startsWith("found")
        ? 1
        : port.startsWith("position") ? marks.position(index) : marks.length(index);
  }

  /** Returns the late modes of a mode word side by side. */
  static int compact(int modes, int lateModes) {
    int word = 0;
    int bit = 0;
    for (int late = lateModes; late != 0; late &= late - 1) {
      word |= (modes >> Integer.numberOfTrailingZeros(late) & 1) << bit++;
    }
    return word;
  }

  /** What the vectors of a row of lanes cover. */
  public static final class Coverage {

    private int windows;
    private int redirects;
    private int stalls;
    private int notHandled;
    private int again;
    private long items;
    private final BitSet carries;

    Coverage(LaneArray array) {
      this.carries = new BitSet(1 << array.carryBits());
    }

    void add(ArrayClock clock, ArrayClock.Marks marks, ArrayStimulus in) {
      boolean taken = in.valid() && clock.isReady();
      windows += taken ? 1 : 0;
      redirects += in.valid() && !in.stall() && in.redirect() >= 0 ? 1 : 0;
      stalls += in.stall() ? 1 : 0;
      again += in.valid() && !in.stall() && !taken ? 1 : 0;
      if (marks.isValid() && marks.isKnown() && !in.stall()) {
        notHandled += marks.notHandled() >= 0 ? 1 : 0;
        items += marks.count();
      }
      if (clock.isStateKnown() && !clock.isWaiting()) {
        carries.set(clock.carry());
      }
    }

    /**
     * Returns the windows taken.
     *
     * @return windows
     */
    public int windows() {
      return windows;
    }

    /**
     * Returns the cycles with a redirect.
     *
     * @return cycles
     */
    public int redirects() {
      return redirects;
    }

    /**
     * Returns the cycles stalled.
     *
     * @return cycles
     */
    public int stalls() {
      return stalls;
    }

    /**
     * Returns the windows with a start that is not handled.
     *
     * @return windows
     */
    public int notHandled() {
      return notHandled;
    }

    /**
     * Returns the cycles after which the window was offered again.
     *
     * @return cycles
     */
    public int again() {
      return again;
    }

    /**
     * Returns the items marked with a length.
     *
     * @return items
     */
    public long items() {
      return items;
    }

    /**
     * Returns the values of the carry that were met.
     *
     * @return a copy; bit i stands for carry i
     */
    public BitSet carries() {
      return (BitSet) carries.clone();
    }

    /** Returns a line of text for reports. */
    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%d windows, %d items, %d redirects, %d stalls, %d not handled, %d offered again, carries"
              + " %s",
          windows,
          items,
          redirects,
          stalls,
          notHandled,
          again,
          carries);
    }
  }
}

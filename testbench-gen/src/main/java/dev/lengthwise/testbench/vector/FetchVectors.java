package dev.lengthwise.testbench.vector;

import dev.lengthwise.cache.FetchClock;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.golden.ArrayClock;
import dev.lengthwise.testbench.cycle.ArrayFields;
import dev.lengthwise.testbench.cycle.CycleFields;
import dev.lengthwise.testbench.cycle.CycleLines;
import dev.lengthwise.testbench.cycle.FetchFields;
import dev.lengthwise.testbench.cycle.HexLine;
import java.io.IOException;
import java.util.List;
import java.util.Locale;

/**
 * Golden vectors of a fetch unit: cycle by cycle, the inputs and what the outputs then are.
 *
 * <p>Random redirects, stalls, flushes, and fills of random delay with random bytes.
 */
public final class FetchVectors {

  private final FetchFields fields;
  private final int cycles;
  private final long seed;

  private FetchVectors(FetchUnit unit, int cycles, long seed) {
    this.fields = new FetchFields(unit);
    this.cycles = cycles;
    this.seed = seed;
    if (cycles < 1) {
      throw new IllegalArgumentException(
          "vectors of " + unit.name() + ": cycles must be at least 1, found " + cycles);
    }
  }

  /**
   * Makes random vectors.
   *
   * @param unit the fetch unit
   * @param cycles the cycles, at least 1
   * @param seed the seed of all random choices
   * @return the vectors
   * @throws IllegalArgumentException if there is no cycle
   */
  public static FetchVectors random(FetchUnit unit, int cycles, long seed) {
    return new FetchVectors(unit, cycles, seed);
  }

  /**
   * Writes the vectors as text: a line with the number of cycles, then a line of hexadecimal digits
   * for each cycle, whose fields are stated in the bench.
   *
   * @param text where to write
   * @throws IOException if {@code text} throws it
   */
  public void writeTo(Appendable text) throws IOException {
    text.append(String.format(Locale.ROOT, "%08x", cycles)).append('\n');
    Run run = new Run();
    for (int cycle = 0; cycle < cycles; cycle++) {
      text.append(run.next()).append('\n');
    }
  }

  /** Returns the fields of a cycle. */
  CycleFields fields() {
    return fields;
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

    private final FetchClock clock = FetchClock.of(fields.unit());
    private final FetchStimulus stimulus = new FetchStimulus(fields.unit(), seed);
    private final List<String> modes = fields.unit().row().lane().instructionSet().table().modes();
    private final HexLine line = new HexLine(fields.wordBits() / 4);

    private Run() {}

    /** Returns the fields of the next cycle; the object is filled again by the next call. */
    @Override
    public HexLine next() {
      stimulus.next(clock);
      ArrayClock.Marks marks = clock.cycle(stimulus.inputs(), stimulus.beat());
      boolean answers = clock.isShown() && marks.isKnown();
      line.clear();
      line.number(
          1 << FetchFields.ALWAYS
              | (clock.isStateKnown() ? 1 << ArrayFields.STATE : 0)
              | (answers ? 1 << ArrayFields.MARKS : 0),
          8);
      for (CycleFields.Output output : fields.outputs()) {
        if (output.port().equals("window")) {
          line.bytes(clock.window(), 0, output.width() / 8);
        } else {
          line.number(value(output.port(), marks), output.width());
        }
      }
      for (CycleFields.Input input : fields.inputs()) {
        if (input.port().equals("beat")) {
          line.bytes(stimulus.beat(), 0, input.width() / 8);
        } else {
          line.number(value(input.port(), stimulus.inputs()), input.width());
        }
      }
      return line;
    }

    private long value(String port, FetchClock.Inputs in) {
      return switch (port) {
        case "stall" -> bit(in.stall());
        case "redirect" -> bit(in.redirect());
        case "redirect_address" -> in.redirectAddress();
        case "flush" -> bit(in.flush());
        case "flush_all" -> bit(in.flushAll());
        case "flush_address" -> in.flushAddress();
        case "request_ready" -> bit(in.requestReady());
        case "beat_valid" -> bit(in.beatValid());
        default -> in.modes() >> modes.indexOf(port) & 1;
      };
    }

    private long value(String port, ArrayClock.Marks marks) {
      return switch (port) {
        case "flush_ready" -> bit(clock.isFlushReady());
        case "request_valid" -> bit(clock.isRequesting());
        case "request_address" -> clock.requestAddress();
        case "access_hit" -> bit(clock.isHit());
        case "access_miss" -> bit(clock.isMiss());
        case "access_evicts" -> bit(clock.isEviction());
        case "marks_valid" -> bit(clock.isShown());
        case "window_address" -> clock.windowAddress();
        case "carry" -> clock.carry();
        case "changed_modes" ->
            ArrayVectors.compact(clock.changedModes(), fields.unit().row().lateModes());
        case "waiting" -> bit(clock.isWaiting());
        default -> ArrayVectors.mark(port, marks);
      };
    }

    private static long bit(boolean value) {
      return value ? 1 : 0;
    }
  }
}

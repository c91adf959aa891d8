package dev.lengthwise.examples.timing;

import dev.lengthwise.testbench.flow.TimingResult;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A row of {@code timing.csv}: what was estimated of a design, and what the flow made of it.
 *
 * @param key which design
 * @param estimate what was estimated; empty for a text that is not ours
 * @param measured what came out
 * @param madeOf what the row depends on, as {@code seeds=5}, with blanks between
 */
public record TimingRow(Key key, Optional<Estimate> estimate, Measured measured, String madeOf) {

  static final List<String> HEADS =
      List.of(
          "design",
          "style",
          "lut_inputs",
          "levels",
          "estimated_luts",
          "measured_luts",
          "registers",
          "estimated_mhz_low",
          "estimated_mhz_high",
          "measured_mhz_min",
          "measured_mhz_median",
          "measured_mhz_max",
          "seeds",
          "script",
          "made_of");

  /** The inputs of a LUT of the flow. */
  static final int LUT_INPUTS = 4;

  /**
   * What tells rows apart.
   *
   * @param design its name
   * @param style what it is made of
   * @param script how it was synthesized
   */
  public record Key(String design, String style, String script) {

    /** Returns the key for people. */
    @Override
    public String toString() {
      return design + ' ' + style + " by " + script;
    }
  }

  /**
   * Our estimate.
   *
   * @param levels LUTs between registers
   * @param luts LUTs
   * @param low the least clock, in MHz
   * @param high the most, in MHz
   */
  public record Estimate(int levels, int luts, double low, double high) {}

  /**
   * What the flow says.
   *
   * @param luts LUTs
   * @param registers flip-flops
   * @param least the clock of the slowest seed, in MHz
   * @param median that of the one in the middle
   * @param most that of the fastest
   * @param seeds how many
   */
  public record Measured(
      int luts, int registers, double least, double median, double most, int seeds) {

    static Measured of(TimingResult result) {
      return new Measured(
          result.luts(),
          result.registers(),
          tenth(result.least()),
          tenth(result.median()),
          tenth(result.most()),
          result.trials().size());
    }

    /** Returns a clock as the file says it, so that what is read is what was written. */
    private static double tenth(double mhz) {
      return Math.round(10 * mhz) / 10.0;
    }
  }

  List<Object> cells() {
    return List.of(
        key.design,
        key.style,
        LUT_INPUTS,
        estimate.<Object>map(Estimate::levels).orElse(""),
        estimate.<Object>map(Estimate::luts).orElse(""),
        measured.luts,
        measured.registers,
        estimate.<Object>map(e -> mhz(e.low)).orElse(""),
        estimate.<Object>map(e -> mhz(e.high)).orElse(""),
        mhz(measured.least),
        mhz(measured.median),
        mhz(measured.most),
        measured.seeds,
        key.script,
        madeOf);
  }

  /**
   * Reads a row.
   *
   * @throws IllegalArgumentException if it is none
   */
  static TimingRow parse(String line) {
    String[] fields = line.split(",", -1);
    if (fields.length != HEADS.size() || !fields[2].equals(Integer.toString(LUT_INPUTS))) {
      throw new IllegalArgumentException("timing row: " + HEADS.size() + " values are expected");
    }
    Optional<Estimate> estimate =
        fields[3].isEmpty()
            ? Optional.empty()
            : Optional.of(
                new Estimate(
                    Integer.parseInt(fields[3]),
                    Integer.parseInt(fields[4]),
                    Double.parseDouble(fields[7]),
                    Double.parseDouble(fields[8])));
    Measured measured =
        new Measured(
            Integer.parseInt(fields[5]),
            Integer.parseInt(fields[6]),
            Double.parseDouble(fields[9]),
            Double.parseDouble(fields[10]),
            Double.parseDouble(fields[11]),
            Integer.parseInt(fields[12]));
    return new TimingRow(new Key(fields[0], fields[1], fields[13]), estimate, measured, fields[14]);
  }

  /**
   * Returns a clock as rows and tables say it.
   *
   * @param clock in MHz
   * @return one digit behind the point
   */
  public static String mhz(double clock) {
    return String.format(Locale.ROOT, "%.1f", clock);
  }
}

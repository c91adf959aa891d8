package dev.lengthwise.study.sweep;

import dev.lengthwise.file.ShownText;
import dev.lengthwise.study.fetch.FrontEnd;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalDouble;

/**
 * What a variant costs and is worth on a stream: a row of {@code study.csv}. All figures are
 * estimates.
 *
 * @param design the variant's name
 * @param style the label of its style
 * @param lutInputs the inputs of a LUT
 * @param lutsPerLane LUTs of a lane alone
 * @param sitesPerLane LUT positions of a lane alone
 * @param levels LUTs on the lane's longest path
 * @param handledShare the share of executed instructions that the lane says a length of, in [0, 1],
 *     rounded to 6 digits
 * @param exactShare the share that it says the exact length of, likewise
 * @param ipc instructions per cycle, rounded to 4 digits; empty if the stream has no order
 * @param stream the stream's name
 * @param madeOf what the figures depend on: names and values, as {@code decoder=2}, with blanks
 *     between them; of {@code device} it has the device's name and a digest of its profile
 */
public record StudyRow(
    String design,
    String style,
    int lutInputs,
    int lutsPerLane,
    int sitesPerLane,
    int levels,
    double handledShare,
    double exactShare,
    OptionalDouble ipc,
    String stream,
    String madeOf) {

  /**
   * Checks the values, rounds shares and throughput to the digits of the file, so that a row that
   * was read again is the same, and makes the names harmless.
   *
   * @param design see StudyRow
   * @param style see StudyRow
   * @param lutInputs see StudyRow
   * @param lutsPerLane see StudyRow
   * @param sitesPerLane see StudyRow
   * @param levels see StudyRow
   * @param handledShare see StudyRow
   * @param exactShare see StudyRow
   * @param ipc see StudyRow
   * @param stream see StudyRow
   * @param madeOf see StudyRow
   * @throws IllegalArgumentException if a count is negative, a share outside of [0, 1], throughput
   *     outside of [0, {@value FrontEnd#MOST_WIDTH}] or {@code madeOf} no such text
   */
  public StudyRow {
    design = ShownText.of(design);
    style = ShownText.of(style);
    stream = ShownText.of(stream);
    require("lut_inputs", lutInputs, 0, Integer.MAX_VALUE);
    require("luts_per_lane", lutsPerLane, 0, Integer.MAX_VALUE);
    require("sites_per_lane", sitesPerLane, 0, Integer.MAX_VALUE);
    require("levels", levels, 0, Integer.MAX_VALUE);
    require("handled_share", handledShare, 0, 1);
    require("exact_share", exactShare, 0, 1);
    require("ipc", ipc.orElse(0), 0, FrontEnd.MOST_WIDTH);
    if (!RowMake.TEXT.matcher(madeOf).matches()) {
      throw new IllegalArgumentException(
          "study row: made_of must be name=value with blanks between, found "
              + ShownText.of(madeOf));
    }
    handledShare = rounded(handledShare, 6);
    exactShare = rounded(exactShare, 6);
    ipc = ipc.isPresent() ? OptionalDouble.of(rounded(ipc.getAsDouble(), 4)) : ipc;
  }

  private static double rounded(double value, int digits) {
    return Double.parseDouble(fixed(value, digits));
  }

  static String fixed(double value, int digits) {
    return String.format(Locale.ROOT, "%." + digits + "f", value);
  }

  private static void require(String column, double value, double least, double most) {
    if (!(value >= least && value <= most)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "study row: %s must be in [%.0f, %.0f], found %s",
              column,
              least,
              most,
              value));
    }
  }

  /** What a row is about; rows of one key are the same. */
  public record Key(String design, String style, String device, String stream) {
    /**
     * Checks for null.
     *
     * @param design see Key
     * @param style see Key
     * @param device see Key
     * @param stream see Key
     */
    public Key {
      Objects.requireNonNull(design, "design");
      Objects.requireNonNull(style, "style");
      Objects.requireNonNull(device, "device");
      Objects.requireNonNull(stream, "stream");
    }

    @Override
    public String toString() {
      return design + ", " + style + (device.isEmpty() ? "" : " for " + device) + ", on " + stream;
    }
  }

  Key key() {
    String device = RowMake.parts(madeOf).getOrDefault(RowMake.DEVICE, "");
    return new Key(design, style, device, stream);
  }
}

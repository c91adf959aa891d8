package dev.lengthwise.study;

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
    String stream) {

  /**
   * Rounds shares and throughput to the digits of the file, so that a row that was read again is
   * the same.
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
   */
  public StudyRow {
    Objects.requireNonNull(design, "design");
    Objects.requireNonNull(style, "style");
    Objects.requireNonNull(stream, "stream");
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

  /** What a row is about; rows of one key are the same. */
  record Key(String design, String style, int lutInputs, String stream) {}

  Key key() {
    return new Key(design, style, lutInputs, stream);
  }
}

package dev.lengthwise.study.accuracy;

import java.util.Locale;

/**
 * What one opcode has to do with the accuracy of a lane.
 *
 * @param map the opcode's map
 * @param code the opcode
 * @param executed the instructions on whose way the row lies
 * @param exact those whose length the lane says
 * @param leftOut whether the lane leaves the row out
 * @param regained the instructions that a lane that leaves out all but this row would handle, and
 *     this lane does not; 0 if the row is not left out
 */
public record AccuracyRow(
    String map, int code, long executed, long exact, boolean leftOut, long regained) {

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%s 0x%02x: %d executed, %d exact%s",
        map,
        code,
        executed,
        exact,
        leftOut ? ", left out, " + regained + " regained" : "");
  }
}

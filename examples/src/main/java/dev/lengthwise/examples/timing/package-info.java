/**
 * What the example {@code timing} measures in the open four-input flow, and the rows that it keeps.
 *
 * <p>{@code TimingRun} measures a lane or a design and adds rows to {@code TimingFile}. What there
 * is to measure: {@code TimedLane}, {@code TimedDesigns}, and {@code CalibrationDesigns}, which the
 * delays of the device are fitted to. Start at {@code TimingRun}.
 */
package dev.lengthwise.examples.timing;

/**
 * Tables for people and for spreadsheets.
 *
 * <p>Each is a {@link dev.lengthwise.report.Report}: a new one is one class.
 *
 * <p>Figures of LUTs, levels and RAM are estimates: synthesis, placement and routing decide.
 */
package dev.lengthwise.report;

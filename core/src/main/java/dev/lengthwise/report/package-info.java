/**
 * Tables for people and for spreadsheets.
 *
 * <p>Figures of LUTs, levels and RAM are estimates: synthesis, placement and routing decide.
 */
package dev.lengthwise.report;

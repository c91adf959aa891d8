package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalInt;

/**
 * Writes {@code mapping.csv}: what functions cost in LUTs, ours beside those of a general synthesis
 * tool.
 *
 * <p>Columns: {@code function, lut_inputs, ours_luts, ours_sites, ours_levels, tool_luts,
 * tool_levels, seconds, proved}. Immutable.
 *
 * @param rows one for each function and LUT size
 */
public record MappingTable(List<Row> rows) implements Report {

  private static final List<String> HEADS =
      List.of(
          "function",
          "lut_inputs",
          "ours_luts",
          "ours_sites",
          "ours_levels",
          "tool_luts",
          "tool_levels",
          "seconds",
          "proved");

  /**
   * One function at one LUT size.
   *
   * @param function its name
   * @param lutInputs the inputs of a LUT
   * @param luts our LUTs
   * @param sites our LUT positions, a dual-output LUT serving two functions
   * @param levels our LUT levels
   * @param toolLuts the tool's LUTs; empty if it is not installed
   * @param toolLevels the tool's LUT levels; empty if it is not installed
   * @param seconds the time that our mapping and its proof took
   * @param proved true if our network was proved to be the function
   */
  public record Row(
      String function,
      int lutInputs,
      int luts,
      int sites,
      int levels,
      OptionalInt toolLuts,
      OptionalInt toolLevels,
      double seconds,
      boolean proved) {

    /**
     * Checks that nothing is missing.
     *
     * @param function see Row
     * @param lutInputs see Row
     * @param luts see Row
     * @param sites see Row
     * @param levels see Row
     * @param toolLuts see Row
     * @param toolLevels see Row
     * @param seconds see Row
     * @param proved see Row
     */
    public Row {
      Objects.requireNonNull(function, "function");
      Objects.requireNonNull(toolLuts, "toolLuts");
      Objects.requireNonNull(toolLevels, "toolLevels");
    }
  }

  /**
   * Copies the list.
   *
   * @param rows see MappingTable
   */
  public MappingTable {
    rows = List.copyOf(rows);
  }

  /** Prints the table. The seconds differ from run to run; all else does not. */
  @Override
  public OutputFile file() {
    List<List<Object>> cells = new ArrayList<>();
    for (Row row : rows) {
      cells.add(
          List.of(
              row.function(),
              row.lutInputs(),
              row.luts(),
              row.sites(),
              row.levels(),
              orEmpty(row.toolLuts()),
              orEmpty(row.toolLevels()),
              String.format(Locale.ROOT, "%.2f", row.seconds()),
              row.proved()));
    }
    return new OutputFile("mapping.csv", CsvFields.text(HEADS, cells));
  }

  private static Object orEmpty(OptionalInt value) {
    return value.isPresent() ? value.getAsInt() : "";
  }
}

package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.realize.cost.LaneCost;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.OptionalInt;
import java.util.stream.Collectors;

/**
 * Writes {@code lanes.csv}: what rows of lanes cost, by window, marking and pipeline cut, beside
 * what a general synthesis tool makes of the lanes.
 *
 * <p>Columns: {@code design, style, lut_inputs, window_bytes, marking, cuts, latency,
 * lane_luts_alone, lane_luts_in_row, marks_luts, luts, levels, registers, tool_lane_luts_alone,
 * tool_lane_luts_in_row}. Immutable.
 *
 * @param rows one for each row of lanes
 */
public record LanesTable(List<Row> rows) implements Report {

  private static final List<String> HEADS =
      List.of(
          "design",
          "style",
          "lut_inputs",
          "window_bytes",
          "marking",
          "cuts",
          "latency",
          "lane_luts_alone",
          "lane_luts_in_row",
          "marks_luts",
          "luts",
          "levels",
          "registers",
          "tool_lane_luts_alone",
          "tool_lane_luts_in_row");

  /**
   * One row of lanes.
   *
   * @param design the design, of a row of lanes
   * @param toolAlone the tool's LUTs for a lane alone; empty if not measured
   * @param toolRow the tool's LUTs for all lanes of the row together; empty if not measured
   */
  public record Row(Design design, OptionalInt toolAlone, OptionalInt toolRow) {

    /**
     * Checks that the design is a row of lanes.
     *
     * @param design see Row
     * @param toolAlone see Row
     * @param toolRow see Row
     * @throws IllegalArgumentException if it is not
     */
    public Row {
      Objects.requireNonNull(toolAlone, "toolAlone");
      Objects.requireNonNull(toolRow, "toolRow");
      if (design.array().isEmpty()) {
        throw new IllegalArgumentException(
            "lanes table: a row of lanes is expected, found " + design);
      }
    }

    /**
     * Returns the LUTs of the marks.
     *
     * @return LUTs, an estimate
     */
    public int marksLuts() {
      return design.cost().get(2).luts();
    }

    /**
     * Returns the names of the pipeline cuts.
     *
     * @return with {@code +} between them, or {@code none}
     */
    public String cuts() {
      LaneArray array = design.array().orElseThrow();
      return array.cuts().isEmpty()
          ? "none"
          : array.cuts().stream().map(PipelineCut::label).collect(Collectors.joining("+"));
    }
  }

  /**
   * Copies the list.
   *
   * @param rows see LanesTable
   */
  public LanesTable {
    rows = List.copyOf(rows);
  }

  @Override
  public OutputFile file() {
    List<List<Object>> cells = new ArrayList<>();
    for (Row row : rows) {
      Design design = row.design();
      LaneArray array = design.array().orElseThrow();
      LaneCost lane = design.laneCost().orElseThrow();
      BlockCost total = design.total();
      cells.add(
          List.of(
              design.name(),
              design.style().label(),
              design.device().lutInputs(),
              array.windowBytes(),
              array.marking().label(),
              row.cuts(),
              array.latency(),
              lane.alone(),
              perLane(lane.inRow()),
              row.marksLuts(),
              total.luts(),
              total.levels(),
              total.registers(),
              row.toolAlone().isPresent() ? row.toolAlone().getAsInt() : "",
              row.toolRow().isPresent()
                  ? perLane(row.toolRow().getAsInt() / (double) array.windowBytes())
                  : ""));
    }
    return new OutputFile("lanes.csv", CsvFields.text(HEADS, cells));
  }

  private static String perLane(double luts) {
    return String.format(Locale.ROOT, "%.1f", luts);
  }
}

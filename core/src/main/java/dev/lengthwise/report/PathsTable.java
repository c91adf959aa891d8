package dev.lengthwise.report;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.cost.FetchPath;
import dev.lengthwise.realize.cost.PathStep;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes {@code paths.csv}: the paths of fetch units from registers or RAM to registers, step by
 * step.
 *
 * <p>Columns: {@code design, device, tags, predecode, ways, tag_bits, path, step, levels, level}.
 * {@code levels} are those that the step adds, {@code level} those up to and including it; a step
 * that other work hides, such as lanes beside the compare, adds what it is behind the step before,
 * at least 0. All are estimates. Immutable.
 *
 * @param designs fetch units made into hardware
 */
public record PathsTable(List<Design> designs) implements Report {

  private static final List<String> HEADS =
      List.of(
          "design",
          "device",
          "tags",
          "predecode",
          "ways",
          "tag_bits",
          "path",
          "step",
          "levels",
          "level");

  /**
   * Copies the list.
   *
   * @param designs see PathsTable
   * @throws IllegalArgumentException if a design is no fetch unit
   */
  public PathsTable {
    designs = List.copyOf(designs);
    for (Design design : designs) {
      if (design.unit().isEmpty()) {
        throw new IllegalArgumentException(
            "paths table: a fetch unit is expected, found " + design.name());
      }
    }
  }

  @Override
  public OutputFile file() {
    List<List<Object>> rows = new ArrayList<>();
    for (Design design : designs) {
      for (FetchPath path : design.paths()) {
        int before = 0;
        for (PathStep step : path.steps()) {
          rows.add(row(design, path, step, Math.max(0, step.level() - before)));
          before = Math.max(before, step.level());
        }
      }
    }
    return new OutputFile("paths.csv", CsvFields.text(HEADS, rows));
  }

  private static List<Object> row(Design design, FetchPath path, PathStep step, int levels) {
    FetchUnit unit = design.unit().orElseThrow();
    return List.of(
        design.name(),
        design.device().name(),
        unit.cache().tags().label(),
        unit.cache().predecode().label(),
        unit.cache().geometry().ways(),
        unit.cache().geometry().tag().width(),
        path.name(),
        step.name(),
        levels,
        step.level());
  }
}

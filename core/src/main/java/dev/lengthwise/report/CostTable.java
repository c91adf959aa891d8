package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.DesignOutput;
import dev.lengthwise.realize.cost.BlockCost;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes {@code cost.csv}: the estimated cost of each block of a design and of the whole, and of
 * the designs it is compared with.
 *
 * <p>Columns: {@code design, block, style, lut_inputs, luts, sites, wide_muxes, levels, block_rams,
 * distributed_ram_bits, proved}. A design's last row is the whole design. Immutable.
 */
public final class CostTable implements DesignOutput {

  private static final List<String> HEADS =
      List.of(
          "design",
          "block",
          "style",
          "lut_inputs",
          "luts",
          "sites",
          "wide_muxes",
          "levels",
          "block_rams",
          "distributed_ram_bits",
          "proved");

  private final List<Design> alternatives;

  /** Makes a table of the design that is written, alone. */
  public CostTable() {
    this(List.of());
  }

  private CostTable(List<Design> alternatives) {
    this.alternatives = List.copyOf(alternatives);
  }

  /**
   * Returns a table that also shows a design that is not written.
   *
   * @param alternative the design; its rows follow those of the design written
   * @return a new table
   */
  public CostTable beside(Design alternative) {
    List<Design> more = new ArrayList<>(alternatives);
    more.add(alternative);
    return new CostTable(more);
  }

  @Override
  public List<OutputFile> files(Design design) {
    List<List<Object>> rows = new ArrayList<>();
    addRows(design, rows);
    alternatives.forEach(alternative -> addRows(alternative, rows));
    return List.of(new OutputFile("cost.csv", CsvFields.text(HEADS, rows)));
  }

  private static void addRows(Design design, List<List<Object>> rows) {
    for (BlockCost cost : design.cost()) {
      rows.add(
          List.of(
              design.name(),
              cost.block(),
              design.style().label(),
              design.device().lutInputs(),
              cost.luts(),
              cost.sites(),
              cost.wideMuxes(),
              cost.levels(),
              cost.blockRams(),
              cost.distributedRamBits(),
              cost.proved()));
    }
  }
}

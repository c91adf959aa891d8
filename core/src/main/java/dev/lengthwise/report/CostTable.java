package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.CsvFields;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.cost.BlockCost;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes {@code cost.csv}: the estimated cost of each block of designs and of the whole.
 *
 * <p>Columns: {@code design, block, style, lut_inputs, luts, sites, wide_muxes, levels, registers,
 * block_rams, distributed_ram_bits, proved}. A design's last row is the whole design. Immutable.
 *
 * @param designs the designs, in the order of the rows
 */
public record CostTable(List<Design> designs) implements Report {

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
          "registers",
          "block_rams",
          "distributed_ram_bits",
          "proved");

  /**
   * Copies the list.
   *
   * @param designs see CostTable
   */
  public CostTable {
    designs = List.copyOf(designs);
  }

  @Override
  public OutputFile file() {
    List<List<Object>> rows = new ArrayList<>();
    designs.forEach(design -> addRows(design, rows));
    return new OutputFile("cost.csv", CsvFields.text(HEADS, rows));
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
              cost.registers(),
              cost.blockRams(),
              cost.distributedRamBits(),
              cost.proved()));
    }
  }
}

package dev.lengthwise.report;

import dev.lengthwise.cache.RamFit;
import dev.lengthwise.cache.RamOption;
import dev.lengthwise.cache.RamUse;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.file.CsvFields;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes {@code ram_fit.csv}: how each part of caches fits a device's RAM, the chosen option first,
 * then the others.
 *
 * <p>Columns: {@code cache, device, part, chosen, layout, medium, shape, arrays, rows, width,
 * primitives, banks, rows_wasted, spare_bits, bits_taken, bits_wasted}. {@code arrays}, {@code
 * rows} and {@code width} are the part's own; {@code primitives} and {@code bits_taken} are what it
 * takes beside another part whose words it shares; {@code banks}, {@code rows_wasted}, {@code
 * spare_bits} and {@code bits_wasted} speak of the RAM that it is in, shared or not. All are
 * estimates. Immutable.
 *
 * @param fits the fits
 */
public record RamFitTable(List<RamFit> fits) implements Report {

  private static final List<String> HEADS =
      List.of(
          "cache",
          "device",
          "part",
          "chosen",
          "layout",
          "medium",
          "shape",
          "arrays",
          "rows",
          "width",
          "primitives",
          "banks",
          "rows_wasted",
          "spare_bits",
          "bits_taken",
          "bits_wasted");

  /**
   * Copies the list.
   *
   * @param fits see RamFitTable
   */
  public RamFitTable {
    fits = List.copyOf(fits);
  }

  @Override
  public OutputFile file() {
    List<List<Object>> rows = new ArrayList<>();
    for (RamFit fit : fits) {
      for (RamFit.Entry entry : fit.entries()) {
        rows.add(row(fit, entry.chosen(), true));
        entry.others().forEach(option -> rows.add(row(fit, option, false)));
      }
    }
    return new OutputFile("ram_fit.csv", CsvFields.text(HEADS, rows));
  }

  private static List<Object> row(RamFit fit, RamOption option, boolean chosen) {
    RamUse use = option.use();
    return List.of(
        fit.cache().name(),
        fit.device().name(),
        option.own().part().label(),
        chosen,
        option.layout().label(),
        use.medium().label(),
        use.shape().map(DeviceProfile.RamShape::toString).orElse(""),
        option.own().copies(),
        option.own().rows(),
        option.own().width(),
        option.primitives(),
        use.banks(),
        use.rowsWasted(),
        use.spareBits(),
        option.bitsTaken(),
        use.bitsWasted());
  }
}

package dev.lengthwise.testbench.flow;

import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The cells of a design, those of the block around it not counted, in the statistics of Yosys.
 *
 * @param luts LUTs
 * @param registers flip-flops
 * @param blockRams block RAM primitives
 */
record CellCounts(int luts, int registers, int blockRams) {

  private static final Pattern SECTION = Pattern.compile("(?m)^=== (.*) ===$");
  private static final String WHOLE = "design hierarchy";

  /**
   * Reads the statistics.
   *
   * @param text what {@code stat} printed
   * @param around the block around the design
   */
  static CellCounts parse(String text, String around) {
    CellCounts all = section(text, WHOLE);
    CellCounts own = section(text, around);
    return new CellCounts(
        all.luts - own.luts, all.registers - own.registers, all.blockRams - own.blockRams);
  }

  private static CellCounts section(String text, String name) {
    Matcher sections = SECTION.matcher(text);
    while (sections.find()) {
      if (sections.group(1).equals(name)) {
        int from = sections.end();
        String section = text.substring(from, sections.find() ? sections.start() : text.length());
        return new CellCounts(
            count(section, "SB_LUT4"),
            count(section, "SB_DFF\\w*"),
            count(section, "SB_RAM40_4K\\w*"));
      }
    }
    throw new IllegalStateException(
        "yosys: the statistics of " + name + " are expected, found none");
  }

  private static int count(String section, String cells) {
    return Pattern.compile("(?m)^ +" + cells + " +([0-9]+)$")
        .matcher(section)
        .results()
        .mapToInt(line -> Integer.parseInt(line.group(1)))
        .sum();
  }
}

package dev.lengthwise.testbench.yardstick;

import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** A netlist of LUTs in the Berkeley logic interchange format, as far as counting needs it. */
final class LutNetlist {

  private static final Pattern NAMES =
      Pattern.compile("\\.names ([^\\n]*)\\n((?:[01-][^\\n]*\\n)*)");

  /**
   * What drives a signal.
   *
   * @param inputs the signals read
   * @param isBuffer true if it costs no LUT
   */
  private record Driver(List<String> inputs, boolean isBuffer) {}

  private final Map<String, Driver> drivers = new LinkedHashMap<>();
  private final Map<String, Integer> levels = new HashMap<>();

  private LutNetlist() {}

  static LutNetlist parse(String text) {
    LutNetlist netlist = new LutNetlist();
    Matcher names = NAMES.matcher(text);
    while (names.find()) {
      List<String> pins = List.of(names.group(1).trim().split(" "));
      int inputs = pins.size() - 1;
      boolean buffer = inputs == 0 || inputs == 1 && names.group(2).equals("1 1\n");
      netlist.drivers.put(pins.get(inputs), new Driver(pins.subList(0, inputs), buffer));
    }
    return netlist;
  }

  Yosys.Figure figure(String script) {
    int luts = (int) drivers.values().stream().filter(driver -> !driver.isBuffer()).count();
    int deepest = drivers.keySet().stream().mapToInt(this::level).max().orElse(0);
    return new Yosys.Figure(script, luts, deepest);
  }

  private int level(String signal) {
    Driver driver = drivers.get(signal);
    if (driver == null) {
      return 0;
    }
    Integer known = levels.get(signal);
    if (known == null) {
      int before = driver.inputs().stream().mapToInt(this::level).max().orElse(0);
      known = driver.isBuffer() ? before : before + 1;
      levels.put(signal, known);
    }
    return known;
  }
}

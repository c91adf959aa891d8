package dev.lengthwise.circuit.translated;

import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Verilog that GHDL's synthesis (Debian package {@code ghdl}) writes.
 *
 * <p>Mends what GHDL 2.0 writes wrongly: constants of more than 64 bits come as texts in quotes,
 * and a selection without its last choice, an unknown value, would read as a latch.
 */
public final class GhdlVerilog {

  private static final Pattern QUOTED = Pattern.compile("\"([01XZxz]+)\"");
  private static final Pattern CASE =
      Pattern.compile("case \\([^)]*\\)(.*?)endcase", Pattern.DOTALL);
  private static final Pattern TARGET = Pattern.compile(": (\\w+) <=");
  private static final Pattern WIDTH = Pattern.compile("reg (?:\\[(\\d+):0\\] )?(\\w+);");

  private GhdlVerilog() {}

  /**
   * Mends a netlist.
   *
   * @param netlist what GHDL wrote
   * @return the same, as Yosys reads it
   */
  public static String mended(String netlist) {
    String text =
        QUOTED
            .matcher(netlist)
            .replaceAll(found -> found.group(1).length() + "'b" + found.group(1));
    return CASE.matcher(text).replaceAll(found -> Matcher.quoteReplacement(complete(found, text)));
  }

  private static String complete(MatchResult found, String netlist) {
    Matcher target = TARGET.matcher(found.group(1));
    if (found.group(1).contains("default:") || !target.find()) {
      return found.group();
    }
    Matcher declared = WIDTH.matcher(netlist);
    int high = 0;
    while (declared.find()) {
      if (declared.group(2).equals(target.group(1)) && declared.group(1) != null) {
        high = Integer.parseInt(declared.group(1));
        break;
      }
    }
    String unknown = "{" + (high + 1) + "{1'bx}}";
    String last = "  default: " + target.group(1) + " <= " + unknown + ";\n    endcase";
    return found.group().replace("endcase", last);
  }
}

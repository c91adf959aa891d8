package dev.lengthwise.testbench.flow;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.name.HdlName;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The head of a module in a Verilog text: its name and its ports. */
final class ModuleHead {

  private static final Pattern COMMENT = Pattern.compile("//[^\\n]*|(?s:/\\*.*?\\*/)");
  private static final Pattern MODULE =
      Pattern.compile("\\bmodule\\s+(\\w+)\\s*\\(([^)]*)\\)\\s*;");
  private static final Pattern PORT =
      Pattern.compile(
          "\\s*(input|output)\\s+(?:(?:wire|reg)\\b\\s*)?(?:\\[\\s*([0-9]{1,4})\\s*:\\s*0\\s*\\]\\s*)?"
              + "(\\w+)\\s*");

  private ModuleHead() {}

  /** Returns a circuit with the ports of the last module, and nothing in it. */
  static Circuit shell(String verilog) {
    Matcher modules = MODULE.matcher(COMMENT.matcher(verilog).replaceAll(" "));
    MatchResult last = null;
    while (modules.find()) {
      last = modules.toMatchResult();
    }
    if (last == null) {
      throw wrong("a module with its ports in its head is expected", "none");
    }
    CircuitBuilder shell = Circuit.named(last.group(1), "A text of the user's.");
    for (String port : last.group(2).split(",", -1)) {
      Matcher matcher = PORT.matcher(port);
      if (!matcher.matches()) {
        throw wrong("a port must read as input [7:0] code", HdlName.quote(port.strip()));
      }
      int width = matcher.group(2) == null ? 1 : Integer.parseInt(matcher.group(2)) + 1;
      if (matcher.group(1).equals("input")) {
        shell.input(matcher.group(3), width, "of the user's");
      } else {
        shell.output(matcher.group(3), shell.constant(0, width), "of the user's");
      }
    }
    return shell.build();
  }

  private static IllegalArgumentException wrong(String rule, String found) {
    return new IllegalArgumentException("timing trial: " + rule + ", found " + found);
  }
}

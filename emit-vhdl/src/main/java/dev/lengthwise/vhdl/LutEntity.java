package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.text.Attribute;
import dev.lengthwise.circuit.text.LutBlock;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;

/** Writes the block that LUTs are instances of. */
final class LutEntity {

  private static final String NUMBERED = "numbered";
  private static final String ARCHITECTURE = "rtl";

  /** What the block calls something so. */
  static final List<String> NAMES =
      List.of(
          LutBlock.INPUTS, LutBlock.TRUTH, LutBlock.VALUE, LutBlock.POINT, NUMBERED, ARCHITECTURE);

  private LutEntity() {}

  /** Returns the text of its file. */
  static String text(String name, VhdlOptions.LutBlock form) {
    Attribute attribute = VhdlOptions.attribute("LUT block attribute", form.attribute());
    TextSink sink = new TextSink();
    LutBlock.writeHead(name, attribute.name(), "--", sink);
    sink.blank().line("library ieee;");
    sink.line("use ieee.std_logic_1164.all;").line("use ieee.numeric_std.all;").blank();
    sink.open("entity " + name + " is").open("generic (");
    sink.line(LutBlock.INPUTS + " : positive;");
    sink.line(LutBlock.TRUTH + "  : std_logic_vector");
    sink.close(");").open("port (");
    sink.line(LutBlock.VALUE + " : out std_logic;");
    sink.line(LutBlock.POINT + " : in  std_logic_vector(" + LutBlock.INPUTS + " - 1 downto 0)");
    sink.close(");").close("end entity " + name + ";").blank();
    architecture(name, AttributeText.of(attribute), sink);
    return sink.text();
  }

  private static void architecture(String name, AttributeText attribute, TextSink sink) {
    sink.open("architecture " + ARCHITECTURE + " of " + name + " is").blank();
    sink.line(attribute.declaration());
    sink.line(attribute.on(ARCHITECTURE, "architecture")).blank();
    sink.comment("--", Functions.LEADING_ZERO);
    sink.line(
        "constant "
            + NUMBERED
            + " : std_logic_vector("
            + LutBlock.TRUTH
            + "'length downto 0) := '0' & "
            + LutBlock.TRUTH
            + ";");
    sink.blank().close("begin").blank();
    sink.line(
        "  "
            + LutBlock.VALUE
            + " <= 'X' when is_x("
            + LutBlock.POINT
            + ") else "
            + NUMBERED
            + "(to_integer(unsigned("
            + LutBlock.POINT
            + ")));");
    sink.blank().line("end architecture " + ARCHITECTURE + ";");
  }
}

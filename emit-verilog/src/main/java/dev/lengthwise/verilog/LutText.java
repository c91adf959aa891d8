package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.Attribute;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.LutBlock;
import dev.lengthwise.circuit.text.SourceBit;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Writes LUTs in the form of the options. In an instance of the design's own block the inputs are
 * one vector: simulators take twice as long over one port each.
 */
final class LutText {

  private static final String INPUTS = LutBlock.INPUTS.toUpperCase(Locale.ROOT);
  private static final String TRUTH = LutBlock.TRUTH.toUpperCase(Locale.ROOT);

  private final EmissionPlan plan;
  private final Statements statements;
  private final VerilogOptions.LutForm form;
  private final TextSink sink;

  LutText(EmissionPlan plan, Statements statements, VerilogOptions.LutForm form, TextSink sink) {
    this.plan = plan;
    this.statements = statements;
    this.form = form;
    this.sink = sink;
  }

  /** Returns the file of the block that LUTs are instances of. */
  static String module(String name, VerilogOptions.LutBlock form) {
    TextSink sink = new TextSink();
    String attribute = Attribute.of("LUT block attribute", form.attribute()).name();
    LutBlock.writeHead(name, attribute, "//", sink);
    sink.blank().line("`default_nettype none").blank();
    sink.line("(* " + form.attribute() + " *)");
    sink.open("module " + name + " #(");
    sink.line("parameter " + INPUTS + " = 1,");
    sink.line("parameter [(1 << " + INPUTS + ") - 1:0] " + TRUTH + " = 2'h0");
    sink.between(") (");
    sink.line("output wire " + LutBlock.VALUE + ",");
    sink.line("input  wire [" + INPUTS + " - 1:0] " + LutBlock.POINT);
    sink.between(");").blank();
    sink.line("assign " + LutBlock.VALUE + " = " + TRUTH + "[" + LutBlock.POINT + "];").blank();
    sink.close("endmodule").blank().line("`default_nettype wire");
    return sink.text();
  }

  /** Tells whether a LUT takes more than a statement or two. */
  boolean isLong() {
    return form instanceof VerilogOptions.LutPrimitive;
  }

  void write(int place, Node.Lookup lut) {
    if (form instanceof VerilogOptions.LutPrimitive primitive) {
      writePrimitive(place, lut, primitive);
    } else if (form instanceof VerilogOptions.LutBlock) {
      writeInstance(place, lut);
    } else {
      statements.assignFromTable(place, lut);
    }
  }

  private void writeInstance(int place, Node.Lookup lut) {
    int inputs = lut.contents().addressBits();
    List<String> pieces = new ArrayList<>();
    pieces.add(" " + plan.cellName(place));
    pieces.add(" (" + plan.name(place).orElseThrow() + ",");
    for (String item : statements.expressions().value(lut.address()).split("(?<=,) ", -1)) {
      pieces.add(" " + item);
    }
    pieces.add(pieces.remove(pieces.size() - 1) + ")");
    String parameters = inputs + ", " + Expressions.table(lut.contents(), inputs);
    statements.write(plan.lutBlock() + " #(" + parameters + ")", pieces);
  }

  private void writePrimitive(int place, Node.Lookup lut, VerilogOptions.LutPrimitive primitive) {
    Contents contents = lut.contents();
    int inputs = contents.addressBits();
    if (inputs > primitive.inputs().size()) {
      throw new IllegalArgumentException(
          "LUT primitive "
              + primitive.module()
              + ": a LUT must have at most "
              + primitive.inputs().size()
              + " inputs, found "
              + inputs);
    }
    String table = Expressions.table(contents, primitive.inputs().size());
    sink.open(primitive.module() + " #(");
    sink.line("." + primitive.table() + " (" + table + ")");
    sink.between(") " + plan.cellName(place) + " (");
    for (int i = 0; i < primitive.inputs().size(); i++) {
      String actual = i < inputs ? inputBit(lut.address(), i) : "1'b0";
      sink.line("." + primitive.inputs().get(i) + " (" + actual + "),");
    }
    sink.line("." + primitive.output() + " (" + plan.name(place).orElseThrow() + ")");
    sink.close(");");
  }

  private String inputBit(Signal address, int bit) {
    SourceBit source = SourceBit.of(plan, address, bit);
    Signal from = source.source();
    if (plan.name(from.node()).isEmpty() && plan.node(from) instanceof Node.Constant constant) {
      return constant.value().testBit(source.bit()) ? "1'b1" : "1'b0";
    }
    return Expressions.bits(statements.expressions().value(from), from.width(), source.bit(), 1);
  }
}

package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.AddressPatterns;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.SourceBit;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes lookups: LUTs and small one-bit tables as an indexed constant or a primitive, others as a
 * function with a {@code casez} statement of bit patterns, whose default is the word that would
 * take most of them. A function, unlike an {@code always @*} block, also works in simulation when
 * its address never changes.
 */
final class LookupText {

  private static final int INDEXED_ADDRESS_BITS = 6;

  private final EmissionPlan plan;
  private final Statements statements;
  private final VerilogOptions options;
  private final TextSink sink;
  private String argument;

  LookupText(EmissionPlan plan, Statements statements, VerilogOptions options, TextSink sink) {
    this.plan = plan;
    this.statements = statements;
    this.options = options;
    this.sink = sink;
  }

  /** The name of every function's argument; a name of the module must not be hidden. */
  private String argument() {
    if (argument == null) {
      argument = plan.newName("address");
    }
    return argument;
  }

  /** Tells whether a lookup takes more than a statement or two. */
  boolean isLong(Node.Lookup lookup) {
    return isPrimitive(lookup) || !isIndexed(lookup);
  }

  private boolean isPrimitive(Node.Lookup lookup) {
    return lookup.lut() && options.lut().isPresent();
  }

  private static boolean isIndexed(Node.Lookup lookup) {
    return lookup.contents().dataBits() == 1
        && (lookup.lut() || lookup.contents().addressBits() <= INDEXED_ADDRESS_BITS);
  }

  void write(int place, Node.Lookup lookup) {
    Contents contents = lookup.contents();
    if (isPrimitive(lookup)) {
      writePrimitive(place, lookup, options.lut().get());
    } else if (isIndexed(lookup)) {
      String table = plan.tableName(place);
      statements.write(
          "localparam [" + ((1 << contents.addressBits()) - 1) + ":0] " + table + " =",
          List.of(" " + constant(contents, contents.addressBits())));
      statements.write(
          "assign " + plan.name(place).orElseThrow() + " =",
          List.of(" " + table + "[" + statements.expressions().value(lookup.address()) + "]"));
    } else {
      writeFunction(place, lookup);
    }
  }

  private static String constant(Contents contents, int inputs) {
    return Expressions.constant(contents.truthTable(inputs), 1 << inputs);
  }

  private void writePrimitive(
      int place, Node.Lookup lookup, VerilogOptions.LutPrimitive primitive) {
    int inputs = lookup.contents().addressBits();
    if (inputs > primitive.inputs().size()) {
      throw new IllegalArgumentException(
          "LUT primitive "
              + primitive.module()
              + ": a LUT must have at most "
              + primitive.inputs().size()
              + " inputs, found "
              + inputs);
    }
    String name = plan.name(place).orElseThrow();
    sink.open(primitive.module() + " #(");
    sink.line(
        "."
            + primitive.table()
            + " ("
            + constant(lookup.contents(), primitive.inputs().size())
            + ")");
    sink.between(") " + plan.newName(name + "_lut") + " (");
    for (int i = 0; i < primitive.inputs().size(); i++) {
      String actual = i < inputs ? inputBit(lookup.address(), i) : "1'b0";
      sink.line("." + primitive.inputs().get(i) + " (" + actual + "),");
    }
    sink.line("." + primitive.output() + " (" + name + ")");
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

  private void writeFunction(int place, Node.Lookup lookup) {
    Contents contents = lookup.contents();
    String table = plan.tableName(place);
    String range = Expressions.range(contents.dataBits());
    String addressRange = Expressions.range(contents.addressBits());
    AddressPatterns patterns = AddressPatterns.of(contents);
    long rest = patterns.rest();
    sink.open("function " + (range.isEmpty() ? "" : range + " ") + table + ";");
    sink.line("input " + (addressRange.isEmpty() ? "" : addressRange + " ") + argument() + ";");
    sink.open("casez (" + argument() + ")");
    patterns
        .byWord()
        .forEach(
            (word, some) -> {
              if (word != rest) {
                writeItem(table, some, word, contents);
              }
            });
    statements.write(
        "default: " + table + " =", List.of(" " + Expressions.constant(rest, contents.dataBits())));
    sink.close("endcase");
    sink.close("endfunction");
    statements.write(
        "assign " + plan.name(place).orElseThrow() + " =",
        List.of(" " + table + "(" + statements.expressions().value(lookup.address()) + ")"));
  }

  private void writeItem(
      String table, List<AddressPatterns.Pattern> some, long word, Contents contents) {
    List<String> labels = some.stream().map(one -> label(one, contents.addressBits())).toList();
    List<String> pieces = new ArrayList<>(Expressions.listed("", labels, ":"));
    pieces.add(" " + table + " = " + Expressions.constant(word, contents.dataBits()));
    statements.write("", pieces);
  }

  /** Returns a pattern as a constant of a {@code casez} statement, in groups of four bits. */
  private static String label(AddressPatterns.Pattern pattern, int bits) {
    StringBuilder text = new StringBuilder().append(bits).append("'b");
    for (int bit = bits - 1; bit >= 0; bit--) {
      text.append(pattern.digit(bit, '?'));
      if (bit > 0 && bit % 4 == 0) {
        text.append('_');
      }
    }
    return text.toString();
  }
}

package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.text.AddressPatterns;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.List;

/**
 * Writes lookups: LUTs in the form of the options, small one-bit tables as an indexed constant,
 * others as a function with a {@code casez} statement of bit patterns, whose default is the word
 * that would take most of them. A function, unlike an {@code always @*} block, also works in
 * simulation when its address never changes.
 */
final class LookupText {

  private static final int INDEXED_ADDRESS_BITS = 6;

  private final EmissionPlan plan;
  private final Statements statements;
  private final LutText luts;
  private final TextSink sink;
  private String argument;

  LookupText(EmissionPlan plan, Statements statements, VerilogOptions options, TextSink sink) {
    this.plan = plan;
    this.statements = statements;
    this.luts = new LutText(plan, statements, options.lut(), sink);
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
    return lookup.lut() ? luts.isLong() : !isIndexed(lookup);
  }

  private static boolean isIndexed(Node.Lookup lookup) {
    return lookup.contents().dataBits() == 1
        && lookup.contents().addressBits() <= INDEXED_ADDRESS_BITS;
  }

  void write(int place, Node.Lookup lookup) {
    if (lookup.lut()) {
      luts.write(place, lookup);
    } else if (isIndexed(lookup)) {
      statements.assignFromTable(place, lookup);
    } else {
      writeFunction(place, lookup);
    }
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

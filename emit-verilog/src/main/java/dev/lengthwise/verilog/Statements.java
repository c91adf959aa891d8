package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** Writes sections, comments and assignments, and breaks lines that are too long. */
final class Statements {

  private static final int COLUMNS = 100;

  private final EmissionPlan plan;
  private final TextSink sink;
  private final Expressions expressions;

  Statements(EmissionPlan plan, TextSink sink) {
    this.plan = plan;
    this.sink = sink;
    this.expressions = new Expressions(plan);
  }

  Expressions expressions() {
    return expressions;
  }

  /** Starts a section. */
  void section(String heading) {
    sink.blank().comment("//", "---- " + heading.strip() + " ----");
  }

  void writeComment(int place) {
    plan.circuit().commentOn(place).ifPresent(text -> sink.comment("//", text));
  }

  void assign(int place) {
    List<String> pieces = expressions.pieces(place);
    write("assign " + plan.name(place).orElseThrow() + " =", pieces, " ");
  }

  private void write(String start, List<String> pieces, String before) {
    List<String> spaced = new ArrayList<>(pieces);
    spaced.set(0, before + spaced.get(0));
    write(start, spaced);
  }

  /** Writes a statement: its start and its pieces, on as many lines as they need. */
  void write(String start, List<String> pieces) {
    int room = COLUMNS - sink.indentation();
    StringBuilder line = new StringBuilder(start);
    String indent = "";
    for (int i = 0; i < pieces.size(); i++) {
      String piece = pieces.get(i) + (i == pieces.size() - 1 ? ";" : "");
      if (line.length() + piece.length() > room && i > 0) {
        sink.line(indent + line);
        indent = "    ";
        line = new StringBuilder(piece.strip());
      } else {
        line.append(piece);
      }
    }
    sink.line(indent + line);
  }

  /** Writes a lookup of one bit as a table and an assignment of one of its bits. */
  void assignFromTable(int place, Node.Lookup lookup) {
    String table = plan.tableName(place);
    int inputs = lookup.contents().addressBits();
    write(
        "localparam [" + ((1 << inputs) - 1) + ":0] " + table + " =",
        List.of(" " + Expressions.table(lookup.contents(), inputs)));
    write(
        "assign " + plan.name(place).orElseThrow() + " =",
        List.of(" " + table + "[" + expressions.value(lookup.address()) + "]"));
  }

  /** Writes a choice as a case statement. */
  void writeCase(int place, Node.Select select) {
    String name = plan.name(place).orElseThrow();
    sink.open("always @* begin");
    sink.open("case (" + expressions.value(select.index()) + ")");
    int last = select.choices().size() - 1;
    String rest = expressions.value(select.choices().get(last));
    Map<String, List<String>> labels = new LinkedHashMap<>();
    for (int i = 0; i < last; i++) {
      labels
          .computeIfAbsent(expressions.value(select.choices().get(i)), value -> new ArrayList<>())
          .add(Expressions.constant(i, select.index().width()));
    }
    labels.remove(rest);
    labels.forEach(
        (value, numbers) -> {
          List<String> pieces = new ArrayList<>(Expressions.listed("", numbers, ":"));
          pieces.add(" " + name + " = " + value);
          write("", pieces);
        });
    write("default: " + name + " =", List.of(" " + rest));
    sink.close("endcase");
    sink.close("end");
  }
}

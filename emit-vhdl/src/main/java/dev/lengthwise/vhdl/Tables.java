package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The constants that hold the words of a block's lookups; equal contents share one. */
final class Tables {

  /** A table is written by ranges of equal words if they are at most a quarter of its words. */
  private static final int WORDS_PER_RANGE = 4;

  private static final int COLUMNS = 72;

  private final EmissionPlan plan;
  private final Map<Contents, String> names = new LinkedHashMap<>();

  Tables(EmissionPlan plan) {
    this.plan = plan;
  }

  /** Returns the name of the constant for a lookup at a place. */
  String name(int place, Contents contents) {
    return names.computeIfAbsent(contents, c -> plan.tableName(place));
  }

  /** Declares what was named. */
  void declare(TextSink sink) {
    names.forEach(
        (contents, name) -> {
          sink.blank();
          if (contents.dataBits() == 1) {
            declareBits(contents, name, sink);
          } else {
            declareWords(contents, name, sink);
          }
        });
  }

  private static void declareBits(Contents contents, String name, TextSink sink) {
    int depth = 1 << contents.addressBits();
    sink.line("constant " + name + " : std_logic_vector(0 to " + (depth - 1) + ") :=");
    int step = Math.min(depth, 64);
    for (int from = 0; from < depth; from += step) {
      StringBuilder digits = new StringBuilder();
      for (int address = from; address < from + step; address++) {
        digits.append(contents.word(address));
      }
      boolean last = from + step == depth;
      sink.line(
          "  \"" + digits + (last ? "\";" : "\" &") + " -- " + hex(from, contents.addressBits()));
    }
  }

  private void declareWords(Contents contents, String name, TextSink sink) {
    int depth = 1 << contents.addressBits();
    String type = plan.newName(name + "_type");
    sink.line(
        "type "
            + type
            + " is array (0 to "
            + (depth - 1)
            + ") of "
            + Literals.subtype(contents.dataBits())
            + ";");
    sink.open("constant " + name + " : " + type + " := (");
    List<Integer> starts = rangeStarts(contents);
    if (starts.size() * WORDS_PER_RANGE <= depth) {
      ranges(contents, starts, sink);
    } else {
      rows(contents, sink);
    }
    sink.close(");");
  }

  private static List<Integer> rangeStarts(Contents contents) {
    List<Integer> starts = new ArrayList<>();
    for (int address = 0; address < 1 << contents.addressBits(); address++) {
      if (address == 0 || contents.word(address) != contents.word(address - 1)) {
        starts.add(address);
      }
    }
    return starts;
  }

  private static void ranges(Contents contents, List<Integer> starts, TextSink sink) {
    int bits = contents.addressBits();
    for (int i = 0; i < starts.size(); i++) {
      int from = starts.get(i);
      boolean last = i == starts.size() - 1;
      int to = (last ? 1 << bits : starts.get(i + 1)) - 1;
      sink.line(
          Literals.index(from, bits)
              + (to == from ? "" : " to " + Literals.index(to, bits))
              + " => "
              + Literals.constant(contents.word(from), contents.dataBits())
              + (last ? "" : ","));
    }
  }

  private static void rows(Contents contents, TextSink sink) {
    int depth = 1 << contents.addressBits();
    int each = Literals.constant(0, contents.dataBits()).length() + 2;
    int step = Math.min(depth, Integer.highestOneBit(Math.max(1, COLUMNS / each)));
    for (int from = 0; from < depth; from += step) {
      List<String> words = new ArrayList<>();
      for (int address = from; address < from + step; address++) {
        words.add(Literals.constant(contents.word(address), contents.dataBits()));
      }
      boolean last = from + step == depth;
      sink.line(
          String.join(", ", words)
              + (last ? " " : ",")
              + " -- "
              + hex(from, contents.addressBits()));
    }
  }

  private static String hex(int address, int addressBits) {
    String digits = Integer.toHexString(address);
    return "0x" + "0".repeat(Math.max(0, (addressBits + 3) / 4 - digits.length())) + digits;
  }
}

package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.text.AddressPatterns;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The constants that hold the words of a block's lookups; equal contents share one. A large table
 * whose words follow few bit patterns is a function that compares them.
 *
 * <p>Address 0 comes first, but last where the only ones are in the first 32 bits: some
 * synthesizers (GHDL 2.0) take such a constant for zero if its length is a multiple of 32.
 */
final class Tables {

  /** A table is written by ranges of equal words if they are at most a quarter of its words. */
  private static final int WORDS_PER_RANGE = 4;

  /** Larger tables are written by pattern if they can: as lists, they fill files. */
  private static final int MOST_LISTED_BITS = 12;

  /** Simulators compare one pattern after the other. */
  private static final int MOST_PATTERNS = 512;

  private static final int COLUMNS = 72;

  private static final int LOST_BITS = 32;

  private final EmissionPlan plan;
  private final Map<Contents, String> names = new LinkedHashMap<>();
  private final Map<Contents, Optional<AddressPatterns>> patterns = new HashMap<>();
  private String argument;

  Tables(EmissionPlan plan) {
    this.plan = plan;
  }

  /** Returns the name of the constant for a lookup at a place. */
  String name(int place, Contents contents) {
    return names.computeIfAbsent(contents, c -> plan.tableName(place));
  }

  /** Tells whether the name is that of a function of the address, not of a constant. */
  boolean isFunction(Contents contents) {
    return patterns.computeIfAbsent(contents, Tables::fewPatterns).isPresent();
  }

  private static Optional<AddressPatterns> fewPatterns(Contents contents) {
    if (contents.addressBits() <= MOST_LISTED_BITS) {
      return Optional.empty();
    }
    int ranges = rangeStarts(contents).size();
    return Optional.of(AddressPatterns.of(contents))
        .filter(found -> found.count() < Math.min(ranges, MOST_PATTERNS));
  }

  /** Declares what was named. */
  void declare(TextSink sink) {
    names.forEach(
        (contents, name) -> {
          sink.blank();
          if (isFunction(contents)) {
            declareFunction(contents, name, sink);
          } else if (contents.dataBits() == 1) {
            declareBits(contents, name, sink);
          } else {
            declareWords(contents, name, sink);
          }
        });
  }

  /** The patterns of a table are disjoint, so it does not matter which is compared first. */
  private void declareFunction(Contents contents, String name, TextSink sink) {
    AddressPatterns found = patterns.get(contents).orElseThrow();
    int bits = contents.addressBits();
    String address = argument();
    sink.line(
        "function "
            + name
            + "("
            + address
            + " : std_logic_vector) return "
            + (contents.dataBits() == 1 ? "std_logic" : "std_logic_vector")
            + " is");
    sink.open("begin");
    String keyword = "if ";
    for (Map.Entry<Long, List<AddressPatterns.Pattern>> entry : found.byWord().entrySet()) {
      if (entry.getKey() != found.rest()) {
        List<String> matches = new ArrayList<>();
        for (AddressPatterns.Pattern pattern : entry.getValue()) {
          matches.add("std_match(" + address + ", \"" + digits(pattern, bits) + "\")");
        }
        Lines.add(sink, keyword + String.join(" or ", matches) + " then");
        sink.line("  return " + Literals.constant(entry.getKey(), contents.dataBits()) + ";");
        keyword = "elsif ";
      }
    }
    sink.line("end if;");
    sink.line("return " + Literals.constant(found.rest(), contents.dataBits()) + ";");
    sink.close("end function " + name + ";");
  }

  /** The name of every function's argument; a name of the block must not be hidden. */
  private String argument() {
    if (argument == null) {
      argument = plan.newName("address");
    }
    return argument;
  }

  private static String digits(AddressPatterns.Pattern pattern, int bits) {
    StringBuilder digits = new StringBuilder();
    for (int bit = bits - 1; bit >= 0; bit--) {
      digits.append(pattern.digit(bit, '-'));
    }
    return digits.toString();
  }

  private static void declareBits(Contents contents, String name, TextSink sink) {
    int depth = 1 << contents.addressBits();
    boolean down = isDescending(contents);
    sink.line("constant " + name + " : std_logic_vector(" + indices(contents) + ") :=");
    int step = Math.min(depth, 64);
    for (int at = 0; at < depth; at += step) {
      int from = down ? depth - step - at : at;
      StringBuilder digits = new StringBuilder();
      for (int address = from; address < from + step; address++) {
        digits.append(contents.word(address));
      }
      boolean last = at + step == depth;
      sink.line(
          "  \""
              + (down ? digits.reverse() : digits)
              + (last ? "\";" : "\" &")
              + " -- "
              + (down ? "down to " : "")
              + hex(from, contents.addressBits()));
    }
  }

  private void declareWords(Contents contents, String name, TextSink sink) {
    int depth = 1 << contents.addressBits();
    String type = plan.newName(name + "_type");
    sink.line(
        "type "
            + type
            + " is array ("
            + indices(contents)
            + ") of "
            + Literals.subtype(contents.dataBits())
            + ";");
    sink.open("constant " + name + " : " + type + " := (");
    List<Integer> starts = rangeStarts(contents);
    if (starts.size() * WORDS_PER_RANGE <= depth || isDescending(contents)) {
      ranges(contents, starts, sink);
    } else {
      rows(contents, sink);
    }
    sink.close(");");
  }

  private static String indices(Contents contents) {
    int last = (1 << contents.addressBits()) - 1;
    return isDescending(contents) ? last + " downto 0" : "0 to " + last;
  }

  /** Tells whether the only ones are in the first bits, so that address 0 must come last. */
  private static boolean isDescending(Contents contents) {
    int bits = contents.dataBits() << contents.addressBits();
    if (bits % LOST_BITS != 0 || bits == LOST_BITS) {
      return false;
    }
    boolean any = false;
    for (int address = 0; address < 1 << contents.addressBits(); address++) {
      // Of the word that the bound falls in, the low bits come after it.
      int after = (address + 1) * contents.dataBits() - LOST_BITS;
      long late = after <= 0 ? 0 : after >= 64 ? -1 : (1L << after) - 1;
      if ((contents.word(address) & late) != 0) {
        return false;
      }
      any |= contents.word(address) != 0;
    }
    return any;
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

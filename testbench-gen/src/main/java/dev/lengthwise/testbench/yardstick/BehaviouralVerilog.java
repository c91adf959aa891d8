package dev.lengthwise.testbench.yardstick;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneTable;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;

/**
 * Writes functions as the behavioural Verilog that a designer would give to a synthesis tool, with
 * {@code x} where the function does not matter: what our LUTs are measured against.
 *
 * <p>Every text has one module {@value #TOP}.
 */
public final class BehaviouralVerilog {

  /** The name of the module. */
  public static final String TOP = "top";

  private static final int BYTES_BITS = 6;

  private final LaneFunction shape;
  private final int specifierBits;
  private final int nextBits;
  private final StringBuilder text = new StringBuilder();

  /** What each specifier may add, kept as all rows ask for it. */
  private final Map<Integer, Set<Integer>> additions = new HashMap<>();

  private BehaviouralVerilog(LaneFunction shape) {
    this.shape = shape;
    this.specifierBits = bits(shape.specifiers());
    this.nextBits = bits(shape.maps().size() - 1);
  }

  private static int bits(int most) {
    return Math.max(1, Integer.SIZE - Integer.numberOfLeadingZeros(most));
  }

  /**
   * Writes tables as one case statement.
   *
   * @param function N inputs and M outputs
   * @return a module with the input {@code x} of N bits and the output {@code y} of M bits
   */
  public static String of(TruthTables function) {
    int inputs = function.inputs();
    int outputs = function.outputs().size();
    StringBuilder text = new StringBuilder();
    line(text, "module %s(input [%d:0] x, output reg [%d:0] y);", TOP, inputs - 1, outputs - 1);
    line(text, "  always @* case (x)");
    for (int point = 0; point < 1 << inputs; point++) {
      StringBuilder value = new StringBuilder();
      for (int output = outputs - 1; output >= 0; output--) {
        TruthTable table = function.outputs().get(output);
        value.append(!table.isCare(point) ? 'x' : table.isOn(point) ? '1' : '0');
      }
      line(text, "    %d'd%d: y = %d'b%s;", inputs, point, outputs, value);
    }
    line(text, "    default: y = {%d{1'bx}};", outputs);
    line(text, "  endcase");
    line(text, "endmodule");
    return text.toString();
  }

  /**
   * Prints a lane.
   *
   * @param lane the lane
   * @return the text of a module, its ports as those of the lane that we emit
   */
  public static String of(Predecoder lane) {
    return of(LaneFunctions.of(LaneTable.of(lane, 0)));
  }

  /**
   * Writes a lane: a case statement for each map and each operand specifier, selection and a sum.
   *
   * @param shape the lane
   * @return a module with the inputs {@code b0}, {@code b1} ... of 8 bits and {@code modes}, if
   *     there are modes, and the output {@code length}
   */
  static String of(LaneFunction shape) {
    return new BehaviouralVerilog(shape).lane();
  }

  private static void line(StringBuilder text, String format, Object... arguments) {
    text.append(String.format(Locale.ROOT, format, arguments)).append('\n');
  }

  private void line(String format, Object... arguments) {
    line(text, format, arguments);
  }

  private String lane() {
    List<String> ports = new ArrayList<>();
    for (int at = 0; at < shape.bytes(); at++) {
      ports.add("input [7:0] b" + at);
    }
    int modes = shape.modes().size();
    if (modes > 0) {
      ports.add("input [" + (modes - 1) + ":0] modes");
    }
    ports.add("output reg [" + (shape.lengthBits() - 1) + ":0] length");
    line("module %s(%s);", TOP, String.join(", ", ports));
    for (int map = 0; map < shape.maps().size(); map++) {
      map(map);
    }
    for (int specifier = 0; specifier < shape.specifiers(); specifier++) {
      for (int map = 0; map < shape.maps().size(); map++) {
        if (isUsed(map, specifier)) {
          specifier(map, specifier);
        }
      }
    }
    for (int map = shape.maps().size() - 1; map >= 0; map--) {
      answer(map);
    }
    line("  always @* length = answer0;");
    line("endmodule");
    return text.toString();
  }

  private String modesThen(String rest) {
    return shape.modes().isEmpty() ? rest : "modes, " + rest;
  }

  /** Writes what each code says: bytes, which specifier counts (0: none), and the next map. */
  private void map(int index) {
    LaneFunction.CodeMap map = shape.maps().get(index);
    line("  reg [%d:0] bytes%d;", BYTES_BITS - 1, index);
    line("  reg [%d:0] specifier%d;", specifierBits - 1, index);
    line("  reg [%d:0] next%d;", nextBits - 1, index);
    line("  always @* case ({%s})", modesThen("b" + map.offset()));
    int bits = 8 + shape.modes().size();
    for (int word = 0; word < shape.modeWords(); word++) {
      for (int code = 0; code < 256; code++) {
        line(
            "    %d'd%d: {bytes%d, specifier%d, next%d} = %s;",
            bits, word << 8 | code, index, index, index, fields(map.outcomes().get(code), word));
      }
    }
    line(
        "    default: {bytes%d, specifier%d, next%d} = %d'bx;",
        index, index, index, BYTES_BITS + specifierBits + nextBits);
    line("  endcase");
  }

  private String fields(LaneFunction.Outcome outcome, int word) {
    if (outcome instanceof LaneFunction.Escape escape) {
      return String.format(
          Locale.ROOT, "{%d'bx, %d'd%d}", BYTES_BITS + specifierBits, nextBits, escape.map());
    }
    if (outcome instanceof LaneFunction.Bytes row) {
      int bytes = row.byModes().get(word);
      // What a specifier adds does not matter where the row is not handled anyway.
      String specifier = specifierBits + (bytes == 0 ? "'bx" : "'d" + (row.specifier() + 1));
      return String.format(
          Locale.ROOT, "{%d'd%d, %s, %d'd0}", BYTES_BITS, bytes, specifier, nextBits);
    }
    return BYTES_BITS + specifierBits + nextBits + "'bx";
  }

  private boolean isUsed(int map, int specifier) {
    return shape.maps().get(map).outcomes().stream()
        .anyMatch(o -> o instanceof LaneFunction.Bytes row && row.specifier() == specifier);
  }

  /** Writes what a specifier adds as a table over the bits that matter to it. */
  private void specifier(int map, int index) {
    int at = shape.maps().get(map).specifierOffset();
    List<Integer> bits = new ArrayList<>();
    List<String> names = new ArrayList<>();
    for (int bit : inReadingOrder()) {
      if (matters(index, bit)) {
        bits.add(bit);
        names.add(
            bit < 16 ? "b" + (at + bit / 8) + "[" + bit % 8 + "]" : "modes[" + (bit - 16) + "]");
      }
    }
    String signals = "decided" + map + "_" + index + ", added" + map + "_" + index;
    line("  reg decided%d_%d; reg [5:0] added%d_%d;", map, index, map, index);
    if (bits.isEmpty()) {
      line("  always @* {%s} = %s;", signals, addition(index, 0));
      return;
    }
    line("  always @* casez ({%s})", String.join(", ", names));
    patterns(index, bits, 0, "", signals);
    line("    default: {%s} = 7'bx;", signals);
    line("  endcase");
  }

  /** Writes a line for each part of the input space, halved bit by bit, where the sum is one. */
  private void patterns(int index, List<Integer> bits, int input, String pattern, String signals) {
    int from = pattern.length();
    if (isConstant(index, bits, from, input)) {
      String rest = "?".repeat(bits.size() - from);
      line("    %d'b%s%s: {%s} = %s;", bits.size(), pattern, rest, signals, addition(index, input));
      return;
    }
    patterns(index, bits, input, pattern + "0", signals);
    patterns(index, bits, input | 1 << bits.get(from), pattern + "1", signals);
  }

  private boolean isConstant(int index, List<Integer> bits, int from, int input) {
    int first = added(index, input);
    for (int point = 1; point < 1 << (bits.size() - from); point++) {
      int other = input;
      for (int i = from; i < bits.size(); i++) {
        other |= (point >> (i - from) & 1) << bits.get(i);
      }
      if (added(index, other) != first) {
        return false;
      }
    }
    return true;
  }

  private String addition(int index, int input) {
    int added = added(index, input);
    return added == LaneFunction.NOT_DECIDED ? "{1'b0, 6'bx}" : "{1'b1, 6'd" + added + "}";
  }

  private int added(int index, int input) {
    return shape.added(index, input & 0xff, input >> 8 & 0xff, input >> 16);
  }

  /** The modes, the specifier byte and the byte after it, each from its highest bit. */
  private List<Integer> inReadingOrder() {
    List<Integer> bits = new ArrayList<>();
    for (int mode = shape.modes().size() - 1; mode >= 0; mode--) {
      bits.add(16 + mode);
    }
    for (int bit = 7; bit >= 0; bit--) {
      bits.add(bit);
    }
    for (int bit = 15; bit >= 8; bit--) {
      bits.add(bit);
    }
    return bits;
  }

  private boolean matters(int index, int bit) {
    for (int input = 0; input < 1 << (16 + shape.modes().size()); input++) {
      int other = input ^ 1 << bit;
      if (added(index, input) != added(index, other)) {
        return true;
      }
    }
    return false;
  }

  /** Writes a map's answer, which may be that of a further map. */
  private void answer(int map) {
    int bits = shape.lengthBits();
    line(
        "  reg decided%d; reg [5:0] added%d, sum%d; reg [%d:0] answer%d;",
        map, map, map, bits - 1, map);
    line("  always @* begin");
    line("    case (specifier%d)", map);
    line("      %d'd0: {decided%d, added%d} = {1'b1, 6'd0};", specifierBits, map, map);
    for (int specifier = 0; specifier < shape.specifiers(); specifier++) {
      if (isUsed(map, specifier)) {
        line(
            "      %d'd%d: {decided%d, added%d} = {decided%d_%d, added%d_%d};",
            specifierBits, specifier + 1, map, map, map, specifier, map, specifier);
      }
    }
    line("      default: {decided%d, added%d} = 7'bx;", map, map);
    line("    endcase");
    line("    sum%d = bytes%d + added%d;", map, map, map);
    line("    case (next%d)", map);
    String said = String.format(Locale.ROOT, "sum%d[%d:0]", map, bits - 1);
    List<String> faults = notHandled(map);
    line(
        "      %d'd0: answer%d = %s;",
        nextBits,
        map,
        faults.isEmpty() ? said : "(" + String.join(" || ", faults) + ") ? 0 : " + said);
    shape.maps().get(map).outcomes().stream()
        .filter(LaneFunction.Escape.class::isInstance)
        .map(o -> ((LaneFunction.Escape) o).map())
        .distinct()
        .sorted()
        .forEach(next -> line("      %d'd%d: answer%d = answer%d;", nextBits, next, map, next));
    line("      default: answer%d = %d'bx;", map, bits);
    line("    endcase");
    line("  end");
  }

  /** Returns the conditions, as far as they can occur, under which a row is not handled. */
  private List<String> notHandled(int map) {
    boolean zero = false;
    boolean undecided = false;
    boolean tooLong = false;
    for (LaneFunction.Outcome outcome : shape.maps().get(map).outcomes()) {
      if (outcome instanceof LaneFunction.Bytes row) {
        for (int base : row.byModes()) {
          zero |= base == 0;
          for (int added : additions(row.specifier())) {
            undecided |= base > 0 && added == LaneFunction.NOT_DECIDED;
            tooLong |= base > 0 && added >= 0 && shape.sum(base, added) == 0;
          }
        }
      }
    }
    List<String> faults = new ArrayList<>();
    if (zero) {
      faults.add("bytes" + map + " == 0");
    }
    if (undecided) {
      faults.add("!decided" + map);
    }
    if (tooLong) {
      faults.add("sum" + map + " > " + longest());
    }
    return faults;
  }

  private Set<Integer> additions(int specifier) {
    return specifier < 0 ? Set.of(0) : additions.computeIfAbsent(specifier, this::allAdditions);
  }

  private Set<Integer> allAdditions(int specifier) {
    Set<Integer> found = new TreeSet<>();
    for (int input = 0; input < 1 << (16 + shape.modes().size()); input++) {
      found.add(added(specifier, input));
    }
    return found;
  }

  private int longest() {
    int longest = 1;
    while (shape.sum(1, longest) != 0) {
      longest++;
    }
    return longest;
  }
}

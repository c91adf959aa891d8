package dev.lengthwise.predecode;

import dev.lengthwise.name.HdlName;
import dev.lengthwise.table.DescriptionException;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * The restriction of an instruction set that one lane implements.
 *
 * <p>The lane reads {@code 1 + lookahead} bytes, its own first, and the modes; it says a length in
 * [1, longest] or 0, not handled. Immutable; equal when the parts are equal.
 *
 * @param name the lane's name; the block's name in the RTL
 * @param instructionSet the full description
 * @param lookahead the bytes after its own that the lane reads, in [0, {@value #MOST_LOOKAHEAD}]
 * @param longest the longest length that the lane says, in bytes
 * @param depth how far the lane follows the bytes after the opcode
 * @param prefixes the treatment of each prefix, by code
 * @param undefinedRows what the lane says where no opcode is defined
 * @param leftOut the rows left to the slow path
 */
public record Predecoder(
    String name,
    InstructionSet instructionSet,
    int lookahead,
    int longest,
    SpecifierDepth depth,
    SortedMap<Integer, PrefixTreatment> prefixes,
    UndefinedRows undefinedRows,
    List<LeftOut> leftOut) {

  /** The most bytes after its own that a lane can read. */
  public static final int MOST_LOOKAHEAD = 15;

  /**
   * Opcodes of a map that the lane does not handle.
   *
   * @param map the map's name
   * @param from the first opcode
   * @param to the last opcode
   */
  public record LeftOut(String map, int from, int to) {

    /**
     * Checks the parts; whether there are such opcodes, the lane checks.
     *
     * @param map see LeftOut
     * @param from see LeftOut
     * @param to see LeftOut
     * @throws IllegalArgumentException if the name is not legal or the opcodes do not ascend from 0
     */
    public LeftOut {
      HdlName.require("rows to leave out", map);
      if (from < 0 || to < from) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "map %s: opcodes to leave out must ascend from 0x00, found 0x%02x-0x%02x",
                map,
                from,
                to));
      }
    }

    /** Returns the map and the range, opcodes in hex. */
    @Override
    public String toString() {
      return from == to
          ? String.format(Locale.ROOT, "%s 0x%02x", map, from)
          : String.format(Locale.ROOT, "%s 0x%02x-0x%02x", map, from, to);
    }
  }

  /**
   * Copies the collections and checks the parts against each other.
   *
   * @param name see Predecoder
   * @param instructionSet see Predecoder
   * @param lookahead see Predecoder
   * @param longest see Predecoder
   * @param depth see Predecoder
   * @param prefixes see Predecoder
   * @param undefinedRows see Predecoder
   * @param leftOut see Predecoder
   * @throws IllegalArgumentException if a part is out of range
   * @throws DescriptionException if prefixes of one mode are treated differently
   * @throws IllegalStateException if nothing is defined and undefined rows may say anything
   */
  public Predecoder {
    HdlName.require("lane", name);
    Objects.requireNonNull(depth, "depth");
    Objects.requireNonNull(undefinedRows, "undefinedRows");
    prefixes = Collections.unmodifiableSortedMap(new TreeMap<>(prefixes));
    leftOut = List.copyOf(leftOut);
    LaneChecks checks = new LaneChecks(instructionSet);
    checks.lookahead(lookahead);
    checks.longest(longest);
    checks.together(name, prefixes);
    leftOut.forEach(checks::leftOut);
    checks.undefinedRows(undefinedRows, leftOut);
  }

  /**
   * Starts a lane that handles all it can: a lookahead as far as the description reads, every row,
   * every specifier byte, prefixes one unit each, undefined rows not handled.
   *
   * @param instructionSet the full description
   * @return a builder
   */
  public static Builder builder(InstructionSet instructionSet) {
    return new Builder(Objects.requireNonNull(instructionSet, "instructionSet"));
  }

  /**
   * Starts a copy; what is not given again stays as it is.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /**
   * Tells whether a row is left to the slow path.
   *
   * @param map the map's name
   * @param code the opcode
   * @return true if it was left out
   */
  public boolean leavesOut(String map, int code) {
    Objects.requireNonNull(map, "map");
    return leftOut.stream()
        .anyMatch(rows -> rows.map().equals(map) && rows.from() <= code && code <= rows.to());
  }

  /**
   * Returns the most prefixes that the lane looks through.
   *
   * @return 0 unless a prefix is folded
   */
  public int mostFolded() {
    return Math.min(
        instructionSet.prefixes().most(),
        prefixes.values().stream().mapToInt(PrefixTreatment::most).max().orElse(0));
  }

  /**
   * Returns the width of the lane's answer.
   *
   * @return bits, enough for {@link #longest()}
   */
  public int lengthBits() {
    return Integer.SIZE - Integer.numberOfLeadingZeros(longest);
  }

  /** Collects the restrictions of a lane. */
  public static final class Builder {

    private final InstructionSet instructionSet;
    private final LaneChecks checks;
    private final Map<String, Object> given = new LinkedHashMap<>();
    private final Map<String, Object> kept = new LinkedHashMap<>();
    private final SortedMap<Integer, PrefixTreatment> keptTreatments = new TreeMap<>();
    private final SortedMap<Integer, PrefixTreatment> treatments = new TreeMap<>();
    private final List<LeftOut> leftOut = new ArrayList<>();

    private Builder(InstructionSet instructionSet) {
      this.instructionSet = instructionSet;
      this.checks = new LaneChecks(instructionSet);
    }

    private Builder(Predecoder lane) {
      this(lane.instructionSet);
      kept.put("name", lane.name);
      kept.put("lookahead", lane.lookahead);
      kept.put("longest", lane.longest);
      kept.put("depth", lane.depth);
      kept.put("undefined rows", lane.undefinedRows);
      keptTreatments.putAll(lane.prefixes);
      leftOut.addAll(lane.leftOut);
    }

    /**
     * Names the lane; the table's name and {@code _lane} if not called.
     *
     * @param name a legal name
     * @return this builder
     * @throws IllegalArgumentException if the name is not legal
     * @throws IllegalStateException if given before
     */
    public Builder name(String name) {
      return give("name", HdlName.requireOfFile("lane", name));
    }

    /**
     * Limits the bytes that the lane reads after its own.
     *
     * @param bytes in [0, {@value #MOST_LOOKAHEAD}], at least 1 if code units are words
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder lookahead(int bytes) {
      return give("lookahead", checks.lookahead(bytes));
    }

    /**
     * Limits the length that the lane says; longer instructions are not handled.
     *
     * @param bytes in [1, longest of the instruction set]
     * @return this builder
     * @throws IllegalArgumentException if out of range
     * @throws IllegalStateException if given before
     */
    public Builder longest(int bytes) {
      return give("longest", checks.longest(bytes));
    }

    /**
     * Sets how far the lane follows the bytes after the opcode.
     *
     * @param depth the depth
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder depth(SpecifierDepth depth) {
      return give("depth", depth);
    }

    /**
     * Sets what the lane says where no opcode is defined.
     *
     * @param rows the answer
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder undefinedRows(UndefinedRows rows) {
      return give("undefined rows", rows);
    }

    /**
     * Sets the treatment of all prefixes that have none of their own.
     *
     * @param treatment the treatment
     * @return this builder
     * @throws IllegalStateException if given before
     */
    public Builder prefixes(PrefixTreatment treatment) {
      return give("prefixes", treatment);
    }

    /**
     * Sets the treatment of one prefix.
     *
     * @param code the prefix
     * @param treatment the treatment
     * @return this builder
     * @throws IllegalArgumentException if the code is no prefix
     * @throws IllegalStateException if given before
     */
    public Builder prefix(int code, PrefixTreatment treatment) {
      Objects.requireNonNull(treatment, "treatment");
      if (instructionSet.prefixes().prefix(code).isEmpty()) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "lane of %s: a prefix of the instruction set is expected, found 0x%02x",
                instructionSet.table().name(),
                code));
      }
      if (treatments.putIfAbsent(code, Objects.requireNonNull(treatment, "treatment")) != null) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "%s: the treatment of a prefix is given once, found 0x%02x again",
                subject(),
                code));
      }
      return this;
    }

    /**
     * Leaves one row to the slow path.
     *
     * @param map the map's name
     * @param code the opcode
     * @return this builder
     * @throws IllegalArgumentException if there is no such map or opcode
     */
    public Builder leaveOut(String map, int code) {
      return leaveOut(map, code, code);
    }

    /**
     * Leaves rows to the slow path.
     *
     * @param map the map's name
     * @param from the first opcode
     * @param to the last opcode
     * @return this builder
     * @throws IllegalArgumentException if there is no such map or opcode, or the order is wrong
     */
    public Builder leaveOut(String map, int from, int to) {
      checks.leftOut(map, from, to);
      leftOut.add(new LeftOut(map, from, to));
      return this;
    }

    /**
     * Builds the lane.
     *
     * @return the lane
     * @throws DescriptionException if prefixes of one mode are treated differently
     * @throws IllegalStateException if nothing is defined and undefined rows may say anything
     */
    public Predecoder build() {
      Map<String, Object> set = new LinkedHashMap<>(kept);
      set.putAll(given);
      SortedMap<Integer, PrefixTreatment> all = allTreatments();
      Predecoder widest =
          new Predecoder(
              (String) set.getOrDefault("name", instructionSet.table().name() + "_lane"),
              instructionSet,
              (Integer) set.getOrDefault("lookahead", MOST_LOOKAHEAD),
              set.containsKey("longest") ? (Integer) set.get("longest") : longestUseful(all),
              (SpecifierDepth) set.getOrDefault("depth", SpecifierDepth.EVERYTHING),
              all,
              (UndefinedRows) set.getOrDefault("undefined rows", UndefinedRows.NOT_HANDLED),
              leftOut);
      return set.containsKey("lookahead") ? widest : widest.withLookaheadAsRead();
    }

    private SortedMap<Integer, PrefixTreatment> allTreatments() {
      SortedMap<Integer, PrefixTreatment> all = new TreeMap<>();
      PrefixTreatment common = (PrefixTreatment) given.get("prefixes");
      for (int code : instructionSet.prefixes().prefixes().keySet()) {
        PrefixTreatment other =
            common == null
                ? keptTreatments.getOrDefault(code, PrefixTreatment.ONE_UNIT_EACH)
                : common;
        all.put(code, treatments.getOrDefault(code, other));
      }
      return all;
    }

    /**
     * Returns the longest length of any row with the prefixes that are folded; at least that of a
     * prefix, for a lane that handles no row.
     */
    private int longestUseful(SortedMap<Integer, PrefixTreatment> all) {
      int folded = all.values().stream().mapToInt(PrefixTreatment::most).max().orElse(0);
      int most =
          instructionSet.longestWithoutPrefixes()
              + Math.min(folded, instructionSet.prefixes().most())
                  * instructionSet.table().unit().bytes();
      return Math.min(
          Math.max(most, instructionSet.table().unit().bytes()), instructionSet.longest());
    }

    private String subject() {
      return "lane of " + instructionSet.table().name();
    }

    private Builder give(String what, Object value) {
      Object before = given.putIfAbsent(what, Objects.requireNonNull(value, what));
      if (before != null) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "%s: %s is given once, found %s after %s",
                subject(),
                what,
                value,
                before));
      }
      return this;
    }
  }

  /** Returns the lane that sees fewer bytes, under another name. */
  Predecoder withLookahead(String otherName, int bytes) {
    return new Predecoder(
        otherName, instructionSet, bytes, longest, depth, prefixes, undefinedRows, leftOut);
  }

  private Predecoder withLookaheadAsRead() {
    int unit = instructionSet.table().unit().bytes();
    int last = unit - 1;
    for (OpcodeMap map : instructionSet.table().maps()) {
      int next = instructionSet.table().offsetOf(map.name()) + unit;
      for (OpcodeMap.RowGroup group : map.groups()) {
        last = Math.max(last, lastRead(group.row(), next));
      }
    }
    return withLookahead(name, Math.min(MOST_LOOKAHEAD, last + mostFolded() * unit));
  }

  /**
   * Returns the last byte that decides a row's length, {@code next} being the one after its opcode.
   */
  private int lastRead(Row row, int next) {
    if (row instanceof Row.ByNextByte split) {
      int last = depth == SpecifierDepth.EVERYTHING ? next : next - 1;
      for (Row.ByNextByte.Case c : split.cases()) {
        last = Math.max(last, lastRead(c.row(), next));
      }
      return last;
    }
    if (row instanceof Row.Instruction instruction && instruction.specifier().isPresent()) {
      boolean readsNext =
          instruction.specifier().get().cases().stream().anyMatch(c -> c.nextPattern().isPresent());
      return switch (depth) {
        case NONE -> next - 1;
        case BYTE -> next;
        case INDEX_BYTE, EVERYTHING -> readsNext ? next + 1 : next;
      };
    }
    return next - 1;
  }
}

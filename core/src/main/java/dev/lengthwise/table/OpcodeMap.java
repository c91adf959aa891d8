package dev.lengthwise.table;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.IntStream;

/**
 * Rows keyed by the code unit at the cursor.
 *
 * <p>Immutable; equal when names, units and groups are equal.
 */
public final class OpcodeMap {

  private final String name;
  private final CodeUnit unit;
  private final List<RowGroup> groups;
  private final int[] groupOfCode;

  private OpcodeMap(String name, CodeUnit unit, List<RowGroup> groups, int[] groupOfCode) {
    this.name = name;
    this.unit = unit;
    this.groups = List.copyOf(groups);
    this.groupOfCode = groupOfCode;
  }

  /**
   * Codes that were given one row together.
   *
   * @param selector the codes
   * @param row what they say
   */
  public record RowGroup(OpcodeSelector selector, Row row) {

    /**
     * Checks for null.
     *
     * @param selector see RowGroup
     * @param row see RowGroup
     */
    public RowGroup {
      Objects.requireNonNull(selector, "selector");
      Objects.requireNonNull(row, "row");
    }
  }

  /**
   * Returns the map's name.
   *
   * @return a legal name
   */
  public String name() {
    return name;
  }

  /**
   * Returns the unit that keys the map.
   *
   * @return the unit
   */
  public CodeUnit unit() {
    return unit;
  }

  /**
   * Returns the groups in input order.
   *
   * @return at least one group
   */
  public List<RowGroup> groups() {
    return groups;
  }

  /**
   * Returns the group that a code belongs to.
   *
   * @param code in [0, {@code unit().codes()})
   * @return an index into {@link #groups()}
   * @throws IllegalArgumentException if the code is out of range
   */
  public int groupOf(int code) {
    checkCode(name, unit, code);
    return groupOfCode[code];
  }

  private static void checkCode(String map, CodeUnit unit, int code) {
    if (code < 0 || code >= unit.codes()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "map %s: an opcode must be in [0x00, 0x%x], found 0x%x",
              map,
              unit.codes() - 1,
              code));
    }
  }

  /**
   * Returns the row of a code.
   *
   * @param code in [0, {@code unit().codes()})
   * @return the row
   * @throws IllegalArgumentException if the code is out of range
   */
  public Row row(int code) {
    return groups.get(groupOf(code)).row();
  }

  /**
   * Returns the codes of a group.
   *
   * @param group an index into {@link #groups()}
   * @return the codes, ascending
   * @throws IllegalArgumentException if there is no such group
   */
  public IntStream codes(int group) {
    if (group < 0 || group >= groups.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "map %s: a group must be in [0, %d), found %d",
              name,
              groups.size(),
              group));
    }
    return IntStream.range(0, unit.codes()).filter(code -> groupOfCode[code] == group);
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof OpcodeMap that
        && name.equals(that.name)
        && unit == that.unit
        && groups.equals(that.groups);
  }

  @Override
  public int hashCode() {
    return 31 * name.hashCode() + groups.hashCode();
  }

  @Override
  public String toString() {
    return "opcode map " + name;
  }

  /** Collects the rows of a map. */
  public static final class Builder extends RowList<Builder> {

    private final String name;
    private final CodeUnit unit;
    private final List<OpcodeSelector> selectors = new ArrayList<>();

    Builder(String name, CodeUnit unit) {
      super("map " + name);
      this.name = name;
      this.unit = unit;
    }

    Builder(OpcodeMap map) {
      this(map.name, map.unit);
      map.groups.forEach(group -> selectors.add(group.selector()));
      map.groups.forEach(group -> add(group.row()));
    }

    @Override
    Builder self() {
      return this;
    }

    /**
     * Chooses one opcode.
     *
     * @param code in [0, number of codes)
     * @return a step that takes its row
     * @throws IllegalArgumentException if the code is out of range
     */
    public RowStep<Builder> row(int code) {
      return rows(code, code);
    }

    /**
     * Chooses the opcodes from one to another, both included.
     *
     * @param from the first
     * @param to the last
     * @return a step that takes their row
     * @throws IllegalArgumentException if a code is out of range or the order is wrong
     */
    public RowStep<Builder> rows(int from, int to) {
      checkCode(name, unit, from);
      checkCode(name, unit, to);
      return choose(new OpcodeSelector.Range(from, to));
    }

    /**
     * Chooses the opcodes that match a pattern.
     *
     * @param pattern as wide as the table's code unit
     * @return a step that takes their row
     * @throws IllegalArgumentException if the pattern is malformed or has another width
     */
    public RowStep<Builder> rows(String pattern) {
      BitPattern parsed = BitPattern.parse(pattern);
      if (parsed.width() != 8 * unit.bytes()) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "map %s: a pattern must be %d bits wide, found %s",
                name,
                8 * unit.bytes(),
                parsed));
      }
      return choose(new OpcodeSelector.Matching(parsed));
    }

    /**
     * Chooses all opcodes that no other row names.
     *
     * @return a step that takes their row
     * @throws IllegalStateException if it was called before
     */
    public RowStep<Builder> others() {
      if (selectors.contains(new OpcodeSelector.Others())) {
        throw new IllegalStateException(subject() + ": others is given once, found it again");
      }
      return choose(new OpcodeSelector.Others());
    }

    private RowStep<Builder> choose(OpcodeSelector selector) {
      checkComplete();
      selectors.add(selector);
      return new RowStep<>(this);
    }

    private void checkComplete() {
      if (selectors.size() != rows().size()) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "%s: opcodes need a row, found none for %s",
                subject(),
                selectors.get(selectors.size() - 1)));
      }
    }

    /** Builds the map, adding what is wrong with it to {@code faults}. */
    OpcodeMap build(List<String> faults) {
      checkComplete();
      int[] groupOf = new int[unit.codes()];
      Arrays.fill(groupOf, -1);
      for (int group = 0; group < selectors.size(); group++) {
        int overlapped = -1;
        for (int code = 0; code < groupOf.length; code++) {
          if (selectors.get(group).names(code)) {
            if (groupOf[code] >= 0 && groupOf[code] != overlapped) {
              overlapped = groupOf[code];
              faults.add(
                  String.format(
                      Locale.ROOT,
                      "%s: rows must not overlap, found %s and %s at 0x%02x",
                      subject(),
                      selectors.get(overlapped),
                      selectors.get(group),
                      code));
            }
            groupOf[code] = group;
          }
        }
      }
      int others = selectors.indexOf(new OpcodeSelector.Others());
      int missing = 0;
      int firstMissing = -1;
      for (int code = groupOf.length - 1; code >= 0; code--) {
        if (groupOf[code] < 0) {
          groupOf[code] = others;
          missing++;
          firstMissing = code;
        }
      }
      if (others < 0 && missing > 0) {
        faults.add(
            String.format(
                Locale.ROOT,
                "%s: every opcode must have a row, found %d without, the first 0x%02x",
                subject(),
                missing,
                firstMissing));
      }
      List<RowGroup> groups = new ArrayList<>();
      for (int group = 0; group < selectors.size(); group++) {
        groups.add(new RowGroup(selectors.get(group), rows().get(group)));
      }
      return new OpcodeMap(name, unit, groups, groupOf);
    }
  }
}

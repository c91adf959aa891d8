package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.StringJoiner;
import java.util.function.Consumer;

/**
 * The length tables of an instruction set: its modes and its opcode maps.
 *
 * @param name the instruction set's name
 * @param unit the unit that opcodes are coded in
 * @param modes the modes, in the order of their bits: mode i is bit i of a mode word
 * @param maps the opcode maps; decoding starts in the first
 */
public record LengthTable(String name, CodeUnit unit, List<String> modes, List<OpcodeMap> maps) {

  /** The most modes a table may have. */
  public static final int MOST_MODES = 8;

  /**
   * Copies the lists and checks the parts against each other.
   *
   * @param name see LengthTable
   * @param unit see LengthTable
   * @param modes see LengthTable
   * @param maps see LengthTable
   * @throws IllegalArgumentException if a name is not legal
   * @throws DescriptionException if the description contradicts itself
   */
  public LengthTable(String name, CodeUnit unit, List<String> modes, List<OpcodeMap> maps) {
    this.name = HdlName.require("table", name);
    this.unit = Objects.requireNonNull(unit, "unit");
    this.modes = List.copyOf(modes);
    this.maps = List.copyOf(maps);
    this.modes.forEach(mode -> HdlName.require("mode", mode));
    DescriptionException.throwIfAny(TableChecks.faults(this));
  }

  /**
   * Returns the map with a name.
   *
   * @param mapName the name
   * @return the map
   * @throws IllegalArgumentException if there is none
   */
  public OpcodeMap map(String mapName) {
    return maps.get(mapIndex(mapName));
  }

  /**
   * Returns the place of a map in {@link #maps()}.
   *
   * @param mapName the name
   * @return an index
   * @throws IllegalArgumentException if there is no such map
   */
  public int mapIndex(String mapName) {
    for (int i = 0; i < maps.size(); i++) {
      if (maps.get(i).name().equals(mapName)) {
        return i;
      }
    }
    throw new IllegalArgumentException(
        "table " + name + ": a map of the table is expected, found " + HdlName.quote(mapName));
  }

  /**
   * Returns the mode word in which just the given modes are 1.
   *
   * @param names modes of the table
   * @return mode i is bit i
   * @throws IllegalArgumentException if a mode is unknown
   */
  public int modeWord(String... names) {
    int word = 0;
    for (String mode : names) {
      int bit = modes.indexOf(mode);
      if (bit < 0) {
        throw new IllegalArgumentException(
            "table " + name + ": " + modeChoice() + ", found " + HdlName.quote(mode));
      }
      word |= 1 << bit;
    }
    return word;
  }

  /** Returns the rule of a mode's name in words. */
  String modeChoice() {
    return modes.isEmpty()
        ? "there are no modes"
        : "a mode must be one of " + String.join(", ", modes);
  }

  /**
   * Checks that a mode word has no bit that stands for no mode.
   *
   * @param word mode i is bit i
   * @return {@code word}
   * @throws IllegalArgumentException if there is no such mode
   */
  public int requireModes(int word) {
    if (word >>> modes.size() != 0) {
      throw new IllegalArgumentException(modesRule() + ", found 0x" + Integer.toHexString(word));
    }
    return word;
  }

  /**
   * Returns the rule of {@link #requireModes} in words, fit to be followed by what was found.
   *
   * @return the table and the modes with their bits
   */
  public String modesRule() {
    StringJoiner bits = new StringJoiner(", ");
    for (int i = 0; i < modes.size(); i++) {
      bits.add("0x" + Integer.toHexString(1 << i) + " " + modes.get(i));
    }
    return "table "
        + name
        + (modes.isEmpty()
            ? ": a mode word must be 0, as there are no modes"
            : ": a mode word may have the bits " + bits);
  }

  /**
   * Returns where the code unit of a map starts.
   *
   * @param mapName the map's name
   * @return bytes from the first opcode byte; the same along every way to the map
   * @throws IllegalArgumentException if there is no such map
   */
  public int offsetOf(String mapName) {
    return MapOffsets.of(maps, new ArrayList<>())[mapIndex(mapName)];
  }

  /**
   * Returns the operand specifiers that rows use.
   *
   * @return each once, in the order of first use
   */
  public Set<OperandSpecifier> specifiers() {
    Set<OperandSpecifier> found = new LinkedHashSet<>();
    for (OpcodeMap map : maps) {
      for (OpcodeMap.RowGroup group : map.groups()) {
        TableChecks.leaves(group.row())
            .forEach(
                row -> {
                  if (row instanceof Row.Instruction i) {
                    i.specifier().ifPresent(found::add);
                  }
                });
      }
    }
    return found;
  }

  /**
   * Tells whether a lane, a row of lanes or a fetch unit can have a port of that name. Such a block
   * must not be called so, as simulators take the name of the outermost block for one inside it.
   *
   * @param name any text
   * @return true for the names of modes and of our own ports
   */
  public boolean isPort(String name) {
    return TableChecks.isPort(this, name);
  }

  /**
   * Starts a table.
   *
   * @param name the instruction set's name
   * @return a builder
   * @throws IllegalArgumentException if the name is not legal
   */
  public static Builder named(String name) {
    return new Builder(HdlName.requireOfFile("table", name));
  }

  /**
   * Starts a copy; modes and maps are added.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /** Collects the modes and maps of a table. */
  public static final class Builder {

    private final String name;
    private CodeUnit unit = CodeUnit.BYTE;
    private final List<String> modes = new ArrayList<>();
    private final Map<String, OpcodeMap.Builder> maps = new LinkedHashMap<>();

    private Builder(String name) {
      this.name = name;
    }

    private Builder(LengthTable table) {
      this.name = table.name;
      this.unit = table.unit;
      modes.addAll(table.modes);
      table.maps.forEach(map -> maps.put(map.name(), new OpcodeMap.Builder(map)));
    }

    /**
     * Sets the code unit; {@link CodeUnit#BYTE} if not called.
     *
     * @param codeUnit the unit
     * @return this builder
     * @throws IllegalStateException if a map was written before
     */
    public Builder unit(CodeUnit codeUnit) {
      if (!maps.isEmpty()) {
        throw new IllegalStateException(
            "table "
                + name
                + ": the code unit is set before the first map, found it after "
                + maps.keySet().iterator().next());
      }
      unit = Objects.requireNonNull(codeUnit, "codeUnit");
      return this;
    }

    /**
     * Adds a mode; the first is bit 0 of a mode word.
     *
     * @param mode the mode's name; also its port in the RTL
     * @return this builder
     * @throws IllegalArgumentException if the name is not legal or given already
     * @throws IllegalStateException if there are {@value #MOST_MODES} modes already
     */
    public Builder mode(String mode) {
      HdlName.require("mode", mode);
      if (modes.contains(mode)) {
        throw new IllegalArgumentException(
            "table " + name + ": a mode is given once, found " + mode + " again");
      }
      if (modes.size() == MOST_MODES) {
        throw new IllegalStateException(
            "table "
                + name
                + ": at most "
                + MOST_MODES
                + " modes are allowed, found "
                + mode
                + " after them");
      }
      modes.add(mode);
      return this;
    }

    /**
     * Adds a map; the first one is where decoding starts.
     *
     * @param map the map's name
     * @param rows writes the rows
     * @return this builder
     * @throws IllegalArgumentException if the name is not legal or given already
     */
    public Builder map(String map, Consumer<OpcodeMap.Builder> rows) {
      HdlName.require("map", map);
      Objects.requireNonNull(rows, "rows");
      if (maps.containsKey(map)) {
        throw new IllegalArgumentException(
            "table " + name + ": a map is given once, found " + map + " again");
      }
      OpcodeMap.Builder builder = new OpcodeMap.Builder(map, unit);
      maps.put(map, builder);
      rows.accept(builder);
      return this;
    }

    /**
     * Builds the table.
     *
     * @return the table
     * @throws DescriptionException if the description contradicts itself
     */
    public LengthTable build() {
      List<String> faults = new ArrayList<>();
      List<OpcodeMap> built = new ArrayList<>();
      maps.values().forEach(map -> built.add(map.build(faults)));
      LengthTable table = null;
      try {
        table = new LengthTable(name, unit, modes, built);
      } catch (DescriptionException e) {
        faults.addAll(e.faults());
      }
      DescriptionException.throwIfAny(faults);
      return table;
    }
  }
}

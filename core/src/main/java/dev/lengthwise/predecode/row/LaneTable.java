package dev.lengthwise.predecode.row;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.Row;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Collections;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;

/**
 * What a lane leaves of each row, for an opcode behind a given number of folded prefixes.
 *
 * <p>This is the one place where a {@link Predecoder}'s restrictions are applied; the lane's golden
 * function and every circuit are made from it.
 */
public final class LaneTable {

  private final Predecoder lane;
  private final int prefixes;
  private final Map<List<Object>, LaneSpecifier> restricted = new HashMap<>();
  private final int bytesSeen;
  private final int mostBytes;
  private final List<LaneMap> maps;

  /**
   * One map as the lane sees it.
   *
   * @param name the map's name
   * @param offset where its code unit starts, in bytes from the first opcode byte
   * @param rows the row of each code
   */
  public record LaneMap(String name, int offset, List<LaneRow> rows) {

    /**
     * Copies the list.
     *
     * @param name see LaneMap
     * @param offset see LaneMap
     * @param rows see LaneMap
     */
    public LaneMap {
      Objects.requireNonNull(name, "name");
      rows = List.copyOf(rows);
    }
  }

  private LaneTable(Predecoder lane, int prefixes) {
    this.lane = lane;
    this.prefixes = prefixes;
    int prefixBytes = prefixes * table().unit().bytes();
    this.bytesSeen = 1 + lane.lookahead() - prefixBytes;
    this.mostBytes = Math.min(lane.longest(), lane.instructionSet().longest()) - prefixBytes;
    List<LaneMap> built = new ArrayList<>();
    for (OpcodeMap map : table().maps()) {
      built.add(new MapBuilder(map).build());
    }
    this.maps = List.copyOf(built);
  }

  /**
   * Applies a lane's restrictions.
   *
   * @param lane the lane
   * @param prefixes the prefixes looked through before the opcode, in [0, {@code
   *     lane.mostFolded()}]
   * @return the table
   * @throws IllegalArgumentException if {@code prefixes} is out of range
   */
  public static LaneTable of(Predecoder lane, int prefixes) {
    if (prefixes < 0 || prefixes > lane.mostFolded()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lane %s: prefixes looked through must be in [0, %d], found %d",
              lane.name(),
              lane.mostFolded(),
              prefixes));
    }
    return new LaneTable(lane, prefixes);
  }

  /**
   * Returns the lane.
   *
   * @return the lane
   */
  public Predecoder lane() {
    return lane;
  }

  /**
   * Returns the bytes that the lane sees from the first opcode byte on.
   *
   * @return bytes; not positive if the prefixes fill all that the lane sees
   */
  public int bytesSeen() {
    return bytesSeen;
  }

  /**
   * Returns the longest length, prefixes not counted, that the lane says.
   *
   * @return bytes; not positive if no length is left
   */
  public int mostBytes() {
    return mostBytes;
  }

  /**
   * Returns the maps in the order of the length table; the first is where decoding starts. In it, a
   * prefix has the row of its treatment: one unit, not handled, or anything where the lane looks
   * through the prefix, so that another table counts.
   *
   * @return one for each map
   */
  public List<LaneMap> maps() {
    return maps;
  }

  /**
   * Returns the specifiers that rows read, each with the depth to which it is read.
   *
   * @return each once, in the order of first use
   */
  public Set<LaneSpecifier> specifiers() {
    Set<LaneSpecifier> found = new LinkedHashSet<>();
    for (LaneMap map : maps) {
      for (LaneRow row : map.rows()) {
        for (LaneRow leaf : row instanceof LaneRow.ByNextByte split ? split.rows() : List.of(row)) {
          if (leaf instanceof LaneRow.Length length) {
            length.specifier().ifPresent(found::add);
          }
        }
      }
    }
    return found;
  }

  /**
   * Returns the lengths, prefixes not counted, that the lane can say.
   *
   * @return ascending, without 0
   */
  public Set<Integer> lengths() {
    Set<Integer> found = new TreeSet<>();
    for (LaneMap map : maps) {
      for (LaneRow row : map.rows()) {
        for (LaneRow leaf : row instanceof LaneRow.ByNextByte split ? split.rows() : List.of(row)) {
          if (leaf instanceof LaneRow.Length length) {
            addLengths(length, found);
          }
        }
      }
    }
    return found;
  }

  private void addLengths(LaneRow.Length row, Set<Integer> found) {
    for (int modes = 0; modes < row.bytes().size(); modes++) {
      int bytes = row.bytes().get(modes);
      Set<Integer> added = new TreeSet<>();
      if (row.specifier().isPresent()) {
        LaneSpecifier specifier = row.specifier().get();
        specifier.specifier().cases().forEach(c -> added.add(c.bytes()));
      } else {
        added.add(0);
      }
      added.stream().map(more -> bytes + more).filter(n -> n <= mostBytes).forEach(found::add);
    }
  }

  private LengthTable table() {
    return lane.instructionSet().table();
  }

  /** Translates the rows of one map. */
  private final class MapBuilder {

    private final OpcodeMap map;
    private final int offset;
    private final int next;
    // By identity: a map has one row for each group, and comparing descriptions costs time.
    private final IdentityHashMap<Row, LaneRow> known = new IdentityHashMap<>();

    MapBuilder(OpcodeMap map) {
      this.map = map;
      this.offset = table().offsetOf(map.name());
      this.next = offset + map.unit().bytes();
    }

    LaneMap build() {
      List<LaneRow> rows = new ArrayList<>();
      for (int code = 0; code < map.unit().codes(); code++) {
        Work.check();
        rows.add(rowOf(code));
      }
      return new LaneMap(map.name(), offset, rows);
    }

    private LaneRow rowOf(int code) {
      PrefixTreatment prefix = offset == 0 ? lane.prefixes().get(code) : null;
      if (prefix != null) {
        return prefixRow(prefix);
      }
      return next > bytesSeen || lane.leavesOut(map.name(), code)
          ? new LaneRow.NotHandled()
          : known.computeIfAbsent(map.row(code), this::translate);
    }

    private LaneRow prefixRow(PrefixTreatment treatment) {
      return switch (treatment.kind()) {
        case ONE_UNIT_EACH ->
            prefixes == 0 && map.unit().bytes() <= Math.min(bytesSeen, mostBytes)
                ? new LaneRow.Length(
                    Collections.nCopies(1 << table().modes().size(), map.unit().bytes()),
                    Optional.empty())
                : new LaneRow.NotHandled();
        case NOT_HANDLED -> new LaneRow.NotHandled();
        case FOLDED ->
            prefixes < Math.min(treatment.most(), lane.mostFolded()) && isMoreSeenBehind()
                ? new LaneRow.Anything()
                : new LaneRow.NotHandled();
      };
    }

    private boolean isMoreSeenBehind() {
      int unit = map.unit().bytes();
      return bytesSeen > unit && mostBytes > unit;
    }

    private LaneRow translate(Row row) {
      if (row instanceof Row.ByNextByte split) {
        return translateSplit(split);
      }
      return translateLeaf(row);
    }

    private LaneRow translateSplit(Row.ByNextByte split) {
      List<LaneRow> rows = new ArrayList<>();
      for (int value = 0; value < 256; value++) {
        Work.check();
        rows.add(translateLeaf(split.row(value)));
      }
      if (rows.stream().distinct().count() == 1) {
        return rows.get(0);
      }
      boolean seen = lane.depth() == SpecifierDepth.EVERYTHING && next < bytesSeen;
      return seen ? new LaneRow.ByNextByte(rows) : new LaneRow.NotHandled();
    }

    private LaneRow translateLeaf(Row row) {
      if (row instanceof Row.Escape escape) {
        int target = next + escape.skip() + map.unit().bytes();
        return target <= bytesSeen
            ? new LaneRow.Escape(table().mapIndex(escape.map()))
            : new LaneRow.NotHandled();
      }
      if (row instanceof Row.Instruction instruction) {
        return translateInstruction(instruction);
      }
      return lane.undefinedRows() == UndefinedRows.ANYTHING
          ? new LaneRow.Anything()
          : new LaneRow.NotHandled();
    }

    private LaneRow translateInstruction(Row.Instruction row) {
      List<Integer> bytes = new ArrayList<>();
      for (int modes = 0; modes < 1 << table().modes().size(); modes++) {
        bytes.add(row.bytesUnder(table().modes(), modes));
      }
      if (bytes.stream().allMatch(n -> n > mostBytes)) {
        return new LaneRow.NotHandled();
      }
      Optional<LaneSpecifier> specifier = row.specifier().map(this::restrict);
      return specifier.isPresent() && !specifier.get().isEverDecided()
          ? new LaneRow.NotHandled()
          : new LaneRow.Length(bytes, specifier);
    }

    private LaneSpecifier restrict(OperandSpecifier specifier) {
      int read = specifierBytesRead();
      return restricted.computeIfAbsent(
          List.of(specifier, read), key -> new LaneSpecifier(specifier, read, table().modes()));
    }

    private int specifierBytesRead() {
      int wanted =
          switch (lane.depth()) {
            case NONE -> 0;
            case BYTE -> 1;
            case INDEX_BYTE, EVERYTHING -> 2;
          };
      return Math.max(0, Math.min(wanted, bytesSeen - next));
    }
  }
}

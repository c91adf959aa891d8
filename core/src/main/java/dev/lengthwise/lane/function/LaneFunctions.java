package dev.lengthwise.lane.function;

import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneSpecifier;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.CodeUnit;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** Turns what a lane leaves of each row into the composition of blocks that is mapped to LUTs. */
public final class LaneFunctions {

  private final LaneTable table;
  private final List<String> modes;
  private final LaneFunction.Builder builder;
  private final List<Integer> order = new ArrayList<>();
  private final Map<Integer, Integer> shapeIndex = new HashMap<>();
  private final List<ByteMap> all = new ArrayList<>();
  private final Map<Split, Integer> splitIndex = new HashMap<>();
  private final Map<LaneSpecifier, Integer> specifierIndex = new HashMap<>();

  /** The rows told apart by a byte, and its place. */
  private record Split(LaneRow.ByNextByte rows, int offset) {}

  /**
   * Rows keyed by a byte.
   *
   * @param name what it is called
   * @param offset the byte
   * @param behind the byte after the opcode
   * @param rows the row for each of 256 bytes; an escape leads to a place in {@link #all}
   */
  private record ByteMap(String name, int offset, int behind, List<LaneRow> rows) {

    /** Tells whether the byte that keys it is one after the opcode. */
    boolean isSplit() {
      return offset == behind;
    }
  }

  private LaneFunctions(LaneTable table) {
    this.table = table;
    this.modes = table.lane().instructionSet().table().modes();
    this.builder = LaneFunction.builder(modes, Math.max(1, table.mostBytes()));
  }

  /**
   * Returns the composition of a lane. Rows that the byte after the opcode tells apart become a map
   * of their own, and so does what the first byte of a word leaves open.
   *
   * @param table the lane, for an opcode behind a number of folded prefixes
   * @return the shape, with the same function
   */
  public static LaneFunction of(LaneTable table) {
    return new LaneFunctions(table).build();
  }

  private LaneFunction build() {
    addMaps();
    for (ByteMap map : List.copyOf(all)) {
      for (LaneRow row : map.rows()) {
        if (row instanceof LaneRow.ByNextByte rows) {
          splitIndex.computeIfAbsent(
              new Split(rows, map.behind()),
              split -> add(map.name() + "_split", map.behind(), map.behind(), rows.rows()));
        }
      }
    }
    boolean[] reached = new boolean[all.size()];
    reach(0, reached);
    for (int map = 0; map < all.size(); map++) {
      if (reached[map]) {
        order.add(map);
      }
    }
    order.sort(Comparator.comparingInt(map -> all.get(map).offset()));
    for (int i = 0; i < order.size(); i++) {
      shapeIndex.put(order.get(i), i);
    }
    for (int map : order) {
      ByteMap own = all.get(map);
      boolean joins = own.isSplit() && own.rows().stream().anyMatch(row -> isKeyedAt(row, own));
      List<LaneFunction.Outcome> outcomes = new ArrayList<>();
      for (int value = 0; value < own.rows().size(); value++) {
        LaneRow row = own.rows().get(value);
        outcomes.add(joins ? joined(own, value) : outcome(row, own.behind()));
      }
      int specifier = joins ? own.offset() + 1 : own.behind();
      builder.map(new LaneFunction.CodeMap(own.name(), own.offset(), specifier, outcomes));
    }
    return builder.build();
  }

  /** Adds the maps of the table, by their places in it, and the columns of their words. */
  private void addMaps() {
    CodeUnit unit = table.lane().instructionSet().table().unit();
    for (LaneTable.LaneMap map : table.maps()) {
      all.add(new ByteMap(map.name(), map.offset(), map.offset() + unit.bytes(), map.rows()));
    }
    for (int i = 0; i < table.maps().size() && unit.bytes() == 2; i++) {
      ByteMap map = all.get(i);
      String second = map.name() + "_second";
      List<LaneRow> first =
          WordColumns.byFirstByte(
              map.rows(), unit, rows -> add(second, map.offset() + 1, map.behind(), rows));
      all.set(i, new ByteMap(map.name(), map.offset(), map.behind(), first));
    }
  }

  /** Adds a map, its name numbered, and returns its place. */
  private int add(String name, int offset, int behind, List<LaneRow> rows) {
    int number = all.size() - table.maps().size();
    all.add(new ByteMap(name + number, offset, behind, rows));
    return all.size() - 1;
  }

  /** Tells whether a row leads to a map that is keyed by the same byte. */
  private boolean isKeyedAt(LaneRow row, ByteMap map) {
    return row instanceof LaneRow.Escape escape && all.get(escape.map()).offset() == map.offset();
  }

  /**
   * Returns what a byte says that both tells rows apart and keys the map that some of them lead to:
   * the row of that map; the others' specifiers, which start with the byte itself, are read as far
   * as it is known.
   */
  private LaneFunction.Outcome joined(ByteMap own, int value) {
    LaneRow row = own.rows().get(value);
    if (isKeyedAt(row, own)) {
      ByteMap target = all.get(((LaneRow.Escape) row).map());
      return outcome(target.rows().get(value), target.behind());
    }
    if (!(row instanceof LaneRow.Length length) || length.specifier().isEmpty()) {
      return outcome(row, own.behind());
    }
    LaneSpecifier specifier = length.specifier().get();
    return new LaneFunction.Bytes(
        length.bytes(),
        builder.specifier((next, unread, modeWord) -> specifier.added(value, next, modeWord)));
  }

  private void reach(int map, boolean[] reached) {
    if (reached[map]) {
      return;
    }
    reached[map] = true;
    ByteMap own = all.get(map);
    for (int code = 0; code < own.rows().size(); code++) {
      LaneRow row = own.rows().get(code);
      int behind = own.behind();
      if (own.isSplit() && isKeyedAt(row, own)) {
        ByteMap target = all.get(((LaneRow.Escape) row).map());
        row = target.rows().get(code);
        behind = target.behind();
      }
      if (row instanceof LaneRow.Escape escape) {
        reach(escape.map(), reached);
      } else if (row instanceof LaneRow.ByNextByte rows) {
        reach(splitIndex.get(new Split(rows, behind)), reached);
      }
    }
  }

  private LaneFunction.Outcome outcome(LaneRow row, int behind) {
    if (row instanceof LaneRow.Escape escape) {
      return new LaneFunction.Escape(shapeIndex.get(escape.map()));
    }
    if (row instanceof LaneRow.Anything) {
      return new LaneFunction.Anything();
    }
    if (row instanceof LaneRow.NotHandled) {
      return new LaneFunction.Bytes(Collections.nCopies(1 << modes.size(), 0), -1);
    }
    if (row instanceof LaneRow.ByNextByte rows) {
      return new LaneFunction.Escape(shapeIndex.get(splitIndex.get(new Split(rows, behind))));
    }
    LaneRow.Length length = (LaneRow.Length) row;
    return new LaneFunction.Bytes(length.bytes(), length.specifier().map(this::index).orElse(-1));
  }

  /** Returns the index of a specifier, whose table is filled once for all its rows. */
  private int index(LaneSpecifier specifier) {
    return specifierIndex.computeIfAbsent(specifier, s -> builder.specifier(s::added));
  }
}

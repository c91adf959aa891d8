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
  private final List<LaneTable.LaneMap> all;
  private final Map<Split, Integer> splitIndex = new HashMap<>();
  private final Map<LaneSpecifier, Integer> specifierIndex = new HashMap<>();

  /** The rows told apart by a byte, and its place. */
  private record Split(LaneRow.ByNextByte rows, int offset) {}

  private LaneFunctions(LaneTable table) {
    this.table = table;
    this.modes = table.lane().instructionSet().table().modes();
    this.builder = LaneFunction.builder(modes, Math.max(1, table.mostBytes()));
    this.all = new ArrayList<>(table.maps());
  }

  /**
   * Returns the composition of a lane. Rows that the byte after the opcode tells apart become a map
   * of their own.
   *
   * @param table the lane, for an opcode behind a number of folded prefixes
   * @return the shape, with the same function
   * @throws IllegalArgumentException if the code unit is not a byte
   */
  public static LaneFunction of(LaneTable table) {
    CodeUnit unit = table.lane().instructionSet().table().unit();
    if (unit.bytes() != 1) {
      throw new IllegalArgumentException(
          "lane shape: the code unit must be a byte, found " + unit.bytes() + " bytes");
    }
    return new LaneFunctions(table).build();
  }

  private LaneFunction build() {
    for (LaneTable.LaneMap map : table.maps()) {
      for (LaneRow row : map.rows()) {
        if (row instanceof LaneRow.ByNextByte rows) {
          splitIndex.computeIfAbsent(new Split(rows, map.offset() + 1), split -> add(map, split));
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
      LaneTable.LaneMap own = all.get(map);
      List<LaneFunction.Outcome> outcomes = new ArrayList<>();
      if (map < table.maps().size()) {
        own.rows().forEach(row -> outcomes.add(outcome(row, own.offset())));
        builder.map(new LaneFunction.CodeMap(own.name(), own.offset(), own.offset() + 1, outcomes));
      } else if (own.rows().stream().noneMatch(row -> isKeyedAt(row, own.offset()))) {
        own.rows().forEach(row -> outcomes.add(outcome(row, own.offset())));
        builder.map(new LaneFunction.CodeMap(own.name(), own.offset(), own.offset(), outcomes));
      } else {
        for (int value = 0; value < own.rows().size(); value++) {
          outcomes.add(joined(own, value));
        }
        builder.map(new LaneFunction.CodeMap(own.name(), own.offset(), own.offset() + 1, outcomes));
      }
    }
    return builder.build();
  }

  /** Tells whether a row leads to a map that is keyed by the byte at an offset. */
  private boolean isKeyedAt(LaneRow row, int offset) {
    return row instanceof LaneRow.Escape escape && all.get(escape.map()).offset() == offset;
  }

  /**
   * Returns what a byte says that both tells rows apart and keys the map that some of them lead to:
   * the row of that map; the others' specifiers, which start with the byte itself, are read as far
   * as it is known.
   */
  private LaneFunction.Outcome joined(LaneTable.LaneMap own, int value) {
    LaneRow row = own.rows().get(value);
    if (isKeyedAt(row, own.offset())) {
      return outcome(all.get(((LaneRow.Escape) row).map()).rows().get(value), own.offset());
    }
    if (!(row instanceof LaneRow.Length length) || length.specifier().isEmpty()) {
      return outcome(row, own.offset());
    }
    LaneSpecifier specifier = length.specifier().get();
    return new LaneFunction.Bytes(
        length.bytes(),
        builder.specifier((next, unread, modeWord) -> specifier.added(value, next, modeWord)));
  }

  private int add(LaneTable.LaneMap map, Split split) {
    int number = all.size() - table.maps().size();
    all.add(
        new LaneTable.LaneMap(map.name() + "_split" + number, split.offset(), split.rows().rows()));
    return all.size() - 1;
  }

  private void reach(int map, boolean[] reached) {
    if (reached[map]) {
      return;
    }
    reached[map] = true;
    boolean split = map >= table.maps().size();
    for (int code = 0; code < all.get(map).rows().size(); code++) {
      LaneRow row = all.get(map).rows().get(code);
      if (split && isKeyedAt(row, all.get(map).offset())) {
        row = all.get(((LaneRow.Escape) row).map()).rows().get(code);
      }
      if (row instanceof LaneRow.Escape escape) {
        reach(escape.map(), reached);
      } else if (row instanceof LaneRow.ByNextByte rows) {
        reach(splitIndex.get(new Split(rows, all.get(map).offset() + 1)), reached);
      }
    }
  }

  private LaneFunction.Outcome outcome(LaneRow row, int offset) {
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
      return new LaneFunction.Escape(shapeIndex.get(splitIndex.get(new Split(rows, offset + 1))));
    }
    LaneRow.Length length = (LaneRow.Length) row;
    return new LaneFunction.Bytes(length.bytes(), length.specifier().map(this::index).orElse(-1));
  }

  /** Returns the index of a specifier, whose table is filled once for all its rows. */
  private int index(LaneSpecifier specifier) {
    return specifierIndex.computeIfAbsent(specifier, s -> builder.specifier(s::added));
  }
}

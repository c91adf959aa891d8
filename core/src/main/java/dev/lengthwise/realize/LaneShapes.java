package dev.lengthwise.realize;

import dev.lengthwise.logic.LaneShape;
import dev.lengthwise.predecode.LaneRow;
import dev.lengthwise.predecode.LaneSpecifier;
import dev.lengthwise.predecode.LaneTable;
import dev.lengthwise.table.CodeUnit;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Turns what a lane leaves of each row into the composition of blocks that is mapped to LUTs. */
public final class LaneShapes {

  private final LaneTable table;
  private final List<String> modes;
  private final LaneShape.Builder builder;
  private final List<Integer> order;
  private final Map<Integer, Integer> shapeIndex = new HashMap<>();
  private final List<LaneTable.LaneMap> splitMaps = new ArrayList<>();
  private final Map<LaneRow.ByNextByte, Integer> splitIndex = new HashMap<>();

  private LaneShapes(LaneTable table) {
    this.table = table;
    this.modes = table.lane().instructionSet().table().modes();
    this.builder = LaneShape.builder(modes, Math.max(1, table.mostBytes()));
    this.order = new ArrayList<>();
    for (int map = 0; map < table.maps().size(); map++) {
      order.add(map);
    }
  }

  /**
   * Returns the composition of a lane.
   *
   * @param table the lane, for an opcode behind a number of folded prefixes
   * @return the shape, with the same function
   * @throws IllegalArgumentException if the code unit is not a byte
   */
  public static LaneShape of(LaneTable table) {
    CodeUnit unit = table.lane().instructionSet().table().unit();
    if (unit.bytes() != 1) {
      throw new IllegalArgumentException(
          "lane shape: the code unit must be a byte, found " + unit.bytes() + " bytes");
    }
    return new LaneShapes(table).build();
  }

  private LaneShape build() {
    List<LaneTable.LaneMap> all = new ArrayList<>(table.maps());
    for (LaneTable.LaneMap map : table.maps()) {
      for (LaneRow row : map.rows()) {
        if (row instanceof LaneRow.ByNextByte split && escapes(split)) {
          splitIndex.computeIfAbsent(
              split,
              s -> {
                splitMaps.add(
                    new LaneTable.LaneMap(
                        map.name() + "_split" + splitMaps.size(), map.offset() + 1, s.rows()));
                return table.maps().size() + splitMaps.size() - 1;
              });
        }
      }
    }
    all.addAll(splitMaps);
    order.clear();
    boolean[] reached = new boolean[all.size()];
    reach(all, 0, reached);
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
      boolean split = map >= table.maps().size();
      List<LaneShape.Outcome> outcomes = new ArrayList<>();
      for (LaneRow row : all.get(map).rows()) {
        outcomes.add(outcome(row));
      }
      LaneTable.LaneMap own = all.get(map);
      builder.map(
          new LaneShape.CodeMap(
              own.name(), own.offset(), split ? own.offset() : own.offset() + 1, outcomes));
    }
    return builder.build();
  }

  private static boolean escapes(LaneRow.ByNextByte split) {
    return split.rows().stream().anyMatch(row -> row instanceof LaneRow.Escape);
  }

  private void reach(List<LaneTable.LaneMap> all, int map, boolean[] reached) {
    if (reached[map]) {
      return;
    }
    reached[map] = true;
    for (LaneRow row : all.get(map).rows()) {
      if (row instanceof LaneRow.Escape escape) {
        reach(all, escape.map(), reached);
      } else if (row instanceof LaneRow.ByNextByte split && splitIndex.containsKey(split)) {
        reach(all, splitIndex.get(split), reached);
      }
    }
  }

  private LaneShape.Outcome outcome(LaneRow row) {
    if (row instanceof LaneRow.Escape escape) {
      return new LaneShape.Escape(shapeIndex.get(escape.map()));
    }
    if (row instanceof LaneRow.Anything) {
      return new LaneShape.Anything();
    }
    if (row instanceof LaneRow.NotHandled) {
      return new LaneShape.Bytes(java.util.Collections.nCopies(1 << modes.size(), 0), -1);
    }
    if (row instanceof LaneRow.ByNextByte byNext) {
      return splitIndex.containsKey(byNext)
          ? new LaneShape.Escape(shapeIndex.get(splitIndex.get(byNext)))
          : folded(byNext);
    }
    LaneRow.Length length = (LaneRow.Length) row;
    return new LaneShape.Bytes(
        length.bytes(), length.specifier().map(s -> builder.specifier(s::added)).orElse(-1));
  }

  /** Makes a split row one base with a specifier that adds the rest. */
  private LaneShape.Outcome folded(LaneRow.ByNextByte split) {
    List<Integer> bases = new ArrayList<>();
    for (int word = 0; word < 1 << modes.size(); word++) {
      int least = Integer.MAX_VALUE;
      for (LaneRow row : split.rows()) {
        if (row instanceof LaneRow.Length length) {
          least = Math.min(least, length.bytes().get(word));
        }
      }
      bases.add(least == Integer.MAX_VALUE ? 0 : least);
    }
    return new LaneShape.Bytes(
        bases,
        builder.specifier(
            (specifier, next, word) -> {
              LaneRow row = split.rows().get(specifier);
              if (row instanceof LaneRow.Length length) {
                Optional<LaneSpecifier> own = length.specifier();
                int added = own.isEmpty() ? 0 : own.get().added(specifier, next, word);
                return added < 0
                    ? LaneShape.NOT_DECIDED
                    : length.bytes().get(word) - bases.get(word) + added;
              }
              return row instanceof LaneRow.Anything
                  ? LaneShape.ADDS_ANYTHING
                  : LaneShape.NOT_DECIDED;
            }));
  }
}

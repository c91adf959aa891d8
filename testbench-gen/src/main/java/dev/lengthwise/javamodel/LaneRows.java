package dev.lengthwise.javamodel;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneSpecifier;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.LengthTable;
import java.util.ArrayList;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Optional;

/** The rows of a lane's model, for opcodes behind a number of prefixes. */
final class LaneRows {

  private final LengthTable table;
  private final Predecoder lane;
  private final LaneTable source;
  private final int prefixes;

  private LaneRows(Predecoder lane, int prefixes) {
    this.table = lane.instructionSet().table();
    this.lane = lane;
    this.source = LaneTable.of(lane, prefixes);
    this.prefixes = prefixes;
  }

  static List<ModelMap> of(Predecoder lane, int prefixes) {
    String first = lane.instructionSet().table().maps().get(0).name();
    return ModelMap.reachable(
        new ModelRow.MapKey(first, prefixes), new LaneRows(lane, prefixes)::translate);
  }

  private ModelMap translate(ModelRow.MapKey key) {
    LaneTable.LaneMap map = source.maps().get(table.mapIndex(key.map()));
    int next = map.offset() + table.unit().bytes();
    IdentityHashMap<LaneRow, ModelRow> known = new IdentityHashMap<>();
    List<ModelRow> rows = new ArrayList<>();
    for (int code = 0; code < map.rows().size(); code++) {
      LaneRow row = map.rows().get(code);
      ModelRow translated = known.get(row);
      if (translated == null) {
        translated = translate(row, next);
        known.put(row, translated);
      }
      rows.add(isNeverLookedUp(map, code) ? new ModelRow.None() : translated);
    }
    return new ModelMap(key, table.map(key.map()), rows);
  }

  /** Where a lane looks through a prefix the table says "anything", and another table counts. */
  private boolean isNeverLookedUp(LaneTable.LaneMap map, int code) {
    return map.rows().get(code) instanceof LaneRow.Anything
        && (lane.undefinedRows() != UndefinedRows.ANYTHING
            || map.offset() == 0 && lane.prefixes().containsKey(code));
  }

  private ModelRow translate(LaneRow row, int next) {
    if (row instanceof LaneRow.Length length) {
      return translateLength(length);
    }
    if (row instanceof LaneRow.Escape escape) {
      LaneTable.LaneMap target = source.maps().get(escape.map());
      return new ModelRow.Escape(
          new ModelRow.MapKey(target.name(), prefixes), target.offset() - next);
    }
    if (row instanceof LaneRow.ByNextByte split) {
      return new ModelRow.ByNextByte(split.rows().stream().map(r -> translate(r, next)).toList());
    }
    return row instanceof LaneRow.Anything ? new ModelRow.Anything() : new ModelRow.None();
  }

  private static ModelRow translateLength(LaneRow.Length length) {
    if (length.specifier().isEmpty()) {
      return new ModelRow.Length(length.bytes(), Optional.empty());
    }
    LaneSpecifier specifier = length.specifier().get();
    if (specifier.bytesRead() > 0) {
      return new ModelRow.Length(
          length.bytes(),
          Optional.of(new ModelSpecifier(specifier.specifier(), specifier.bytesRead() > 1)));
    }
    List<Integer> bytes = new ArrayList<>();
    for (int modes = 0; modes < length.bytes().size(); modes++) {
      int added = specifier.added(0, 0, modes);
      bytes.add(added == LaneSpecifier.NOT_DECIDED ? 0 : length.bytes().get(modes) + added);
    }
    return new ModelRow.Length(bytes, Optional.empty());
  }
}

package dev.lengthwise.javamodel;

import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** The rows of the length model: those of the description. */
final class TruthRows {

  private final LengthTable table;
  private final Map<Row, ModelRow> known = new HashMap<>();

  private TruthRows(LengthTable table) {
    this.table = table;
  }

  static List<ModelMap> of(InstructionSet set) {
    String first = set.table().maps().get(0).name();
    return ModelMap.reachable(new ModelRow.MapKey(first, 0), new TruthRows(set.table())::translate);
  }

  private ModelMap translate(ModelRow.MapKey key) {
    OpcodeMap map = table.map(key.map());
    List<ModelRow> ofGroup = map.groups().stream().map(group -> translate(group.row())).toList();
    List<ModelRow> rows = new ArrayList<>();
    for (int code = 0; code < map.unit().codes(); code++) {
      rows.add(ofGroup.get(map.groupOf(code)));
    }
    return new ModelMap(key, map, rows);
  }

  private ModelRow translate(Row row) {
    ModelRow before = known.get(row);
    if (before == null) {
      before = translateNew(row);
      known.put(row, before);
    }
    return before;
  }

  private ModelRow translateNew(Row row) {
    if (row instanceof Row.Instruction instruction) {
      List<Integer> bytes = new ArrayList<>();
      for (int modes = 0; modes < 1 << table.modes().size(); modes++) {
        bytes.add(instruction.bytesUnder(table.modes(), modes));
      }
      return new ModelRow.Length(
          bytes, instruction.specifier().map(specifier -> new ModelSpecifier(specifier, true)));
    }
    if (row instanceof Row.Escape escape) {
      return new ModelRow.Escape(new ModelRow.MapKey(escape.map(), 0), escape.skip());
    }
    if (row instanceof Row.ByNextByte split) {
      List<ModelRow> rows = new ArrayList<>();
      for (int next = 0; next < 256; next++) {
        rows.add(translate(split.row(next)));
      }
      return new ModelRow.ByNextByte(rows);
    }
    return new ModelRow.None();
  }
}

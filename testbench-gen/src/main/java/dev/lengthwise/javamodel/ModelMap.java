package dev.lengthwise.javamodel;

import dev.lengthwise.table.OpcodeMap;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Function;

/**
 * One opcode map of a model.
 *
 * @param key its name
 * @param source the map in the description
 * @param rows the row of each code
 */
record ModelMap(ModelRow.MapKey key, OpcodeMap source, List<ModelRow> rows) {

  ModelMap {
    rows = List.copyOf(rows);
  }

  /** Returns the maps that escapes reach from a first one, in the order of the ways to them. */
  static List<ModelMap> reachable(
      ModelRow.MapKey first, Function<ModelRow.MapKey, ModelMap> translate) {
    Map<ModelRow.MapKey, ModelMap> found = new LinkedHashMap<>();
    List<ModelRow.MapKey> open = new ArrayList<>(List.of(first));
    for (int i = 0; i < open.size(); i++) {
      ModelMap map = translate.apply(open.get(i));
      found.put(open.get(i), map);
      for (ModelRow row : map.rows()) {
        for (ModelRow leaf :
            row instanceof ModelRow.ByNextByte split ? split.rows() : List.of(row)) {
          if (leaf instanceof ModelRow.Escape escape && !open.contains(escape.target())) {
            open.add(escape.target());
          }
        }
      }
    }
    return List.copyOf(found.values());
  }

  /** Tells whether no code has a length. */
  boolean isEmpty() {
    return rows.stream().allMatch(row -> row instanceof ModelRow.None);
  }
}

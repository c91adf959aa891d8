package dev.lengthwise.testbench.vector;

import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** One way to a map: the escapes that lead there from the first map. */
final class MapPath {

  private final OpcodeMap map;
  private final int offset;
  private final List<Step> steps;

  /**
   * One escape.
   *
   * @param position where its code unit starts
   * @param opcode the escape's opcode
   * @param nextByte the byte after it if the escape depends on it, otherwise -1
   */
  private record Step(int position, int opcode, int nextByte) {}

  private MapPath(OpcodeMap map, int offset, List<Step> steps) {
    this.map = map;
    this.offset = offset;
    this.steps = List.copyOf(steps);
  }

  /** Returns a path to every map, in the order in which escapes reach them. */
  static List<MapPath> all(LengthTable table) {
    Map<String, MapPath> found = new LinkedHashMap<>();
    OpcodeMap first = table.maps().get(0);
    List<MapPath> open = new ArrayList<>(List.of(new MapPath(first, 0, List.of())));
    found.put(first.name(), open.get(0));
    for (int i = 0; i < open.size(); i++) {
      MapPath path = open.get(i);
      for (int opcode = 0; opcode < path.map.unit().codes(); opcode++) {
        for (MapPath further : path.escapes(table, opcode)) {
          if (found.putIfAbsent(further.map.name(), further) == null) {
            open.add(further);
          }
        }
      }
    }
    return List.copyOf(open);
  }

  private List<MapPath> escapes(LengthTable table, int opcode) {
    List<MapPath> found = new ArrayList<>();
    Row row = map.row(opcode);
    if (row instanceof Row.Escape escape) {
      found.add(follow(table, escape, opcode, -1));
    } else if (row instanceof Row.ByNextByte split) {
      for (int next = 0; next < 256; next++) {
        if (split.row(next) instanceof Row.Escape escape) {
          found.add(follow(table, escape, opcode, next));
        }
      }
    }
    return found;
  }

  private MapPath follow(LengthTable table, Row.Escape escape, int opcode, int nextByte) {
    List<Step> more = new ArrayList<>(steps);
    more.add(new Step(offset, opcode, nextByte));
    return new MapPath(table.map(escape.map()), table.offsetOf(escape.map()), more);
  }

  OpcodeMap map() {
    return map;
  }

  /** Returns the place of the byte after the map's code unit. */
  int next() {
    return offset + map.unit().bytes();
  }

  /** Writes the escapes and an opcode of the map into bytes, as far as there are any. */
  byte[] code(byte[] bytes, int opcode) {
    for (Step step : steps) {
      put(bytes, step.position(), step.opcode());
    }
    put(bytes, offset, opcode);
    for (Step step : steps) {
      int next = step.position() + map.unit().bytes();
      if (step.nextByte() >= 0 && next < bytes.length) {
        bytes[next] = (byte) step.nextByte();
      }
    }
    return bytes;
  }

  private void put(byte[] bytes, int position, int code) {
    if (position + map.unit().bytes() <= bytes.length) {
      map.unit().write(code, bytes, position);
    }
  }
}

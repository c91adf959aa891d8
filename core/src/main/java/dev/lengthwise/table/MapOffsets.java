package dev.lengthwise.table;

import java.util.ArrayDeque;
import java.util.Arrays;
import java.util.Deque;
import java.util.List;
import java.util.Locale;

/** Where the code unit of each map starts, found by following the escapes from the first map. */
final class MapOffsets {

  /** The offset of a map that no escape leads to. */
  static final int UNREACHED = -1;

  private MapOffsets() {}

  /**
   * Returns the offset of each map in bytes from the first opcode byte, {@link #UNREACHED} where
   * there is no way; adds a fault for each escape loop and for maps reached at two offsets.
   */
  static int[] of(List<OpcodeMap> maps, List<String> faults) {
    int[] offsets = new int[maps.size()];
    Arrays.fill(offsets, UNREACHED);
    if (!maps.isEmpty()) {
      new Walk(maps, offsets, faults).visit(0, 0);
    }
    return offsets;
  }

  private static final class Walk {

    private final List<OpcodeMap> maps;
    private final int[] offsets;
    private final List<String> faults;
    private final Deque<String> way = new ArrayDeque<>();

    Walk(List<OpcodeMap> maps, int[] offsets, List<String> faults) {
      this.maps = maps;
      this.offsets = offsets;
      this.faults = faults;
    }

    void visit(int index, int offset) {
      OpcodeMap map = maps.get(index);
      if (way.contains(map.name())) {
        String fault =
            String.format(
                Locale.ROOT,
                "map %s: escapes must not lead back, found %s -> %s",
                map.name(),
                String.join(" -> ", way),
                map.name());
        if (!faults.contains(fault)) {
          faults.add(fault);
        }
        return;
      }
      if (offsets[index] != UNREACHED) {
        if (offsets[index] != offset) {
          faults.add(
              String.format(
                  Locale.ROOT,
                  "map %s: every way to a map must have the same length, found %d and %d bytes",
                  map.name(),
                  offsets[index],
                  offset));
        }
        return;
      }
      offsets[index] = offset;
      way.addLast(map.name());
      for (OpcodeMap.RowGroup group : map.groups()) {
        TableChecks.leaves(group.row())
            .forEach(
                row -> {
                  if (row instanceof Row.Escape escape) {
                    follow(escape, offset + map.unit().bytes() + escape.skip());
                  }
                });
      }
      way.removeLast();
    }

    private void follow(Row.Escape escape, int offset) {
      for (int i = 0; i < maps.size(); i++) {
        if (maps.get(i).name().equals(escape.map())) {
          visit(i, offset);
        }
      }
    }
  }
}

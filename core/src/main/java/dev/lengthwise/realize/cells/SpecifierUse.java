package dev.lengthwise.realize.cells;

import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneSpecifier;
import dev.lengthwise.predecode.row.LaneTable;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * An operand specifier at a place.
 *
 * @param specifier what is read of it
 * @param position its byte, counted from the first opcode byte
 */
public record SpecifierUse(LaneSpecifier specifier, int position) {

  /** Returns the uses in a lane, in the order of maps and rows. */
  public static List<SpecifierUse> in(LaneTable table) {
    int unit = table.lane().instructionSet().table().unit().bytes();
    Set<SpecifierUse> uses = new LinkedHashSet<>();
    for (LaneTable.LaneMap map : table.maps()) {
      for (LaneRow row : map.rows()) {
        for (LaneRow leaf : row instanceof LaneRow.ByNextByte split ? split.rows() : List.of(row)) {
          if (leaf instanceof LaneRow.Length length) {
            length.specifier().ifPresent(s -> uses.add(new SpecifierUse(s, map.offset() + unit)));
          }
        }
      }
    }
    return List.copyOf(uses);
  }
}

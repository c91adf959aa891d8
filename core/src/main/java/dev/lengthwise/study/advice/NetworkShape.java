package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneRow;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;

/**
 * What the size of a lane's network of LUTs depends on, measured in milliseconds, without mapping
 * it.
 *
 * <p>A map is a function of eight bits, and so a decision diagram. At each of its levels it has as
 * many nodes as there are different functions of the bits that are not read yet ("column
 * multiplicity", R. L. Ashenhurst, "The decomposition of switching functions", 1957; cited from
 * memory), and those that agree wherever both have to say something count once. So a row that is
 * left out of a regular map is an exception, which makes nodes more, and a row that may say
 * anything makes them fewer. Bits are ordered so that each level, from the last one on, has the
 * fewest.
 *
 * @param nodes of the diagrams of all maps that are read, one for each opcode map or split row
 * @param hasSpecifiers whether operand specifiers are read
 * @param modes the modes of the instruction set
 */
record NetworkShape(int nodes, boolean hasSpecifiers, int modes) {

  private static final int BITS = 8;
  private static final int CODES = 1 << BITS;

  /**
   * The nodes that specifiers are worth; this and what follows were fitted to 38 lanes of 6 to 82
   * LUTs, half of them of one large set and half of sets made at random, realised with the least
   * effort. Half of the estimates were within 12%.
   */
  private static final int NODES_OF_SPECIFIERS = 15;

  /** The nodes that a mode is worth. */
  private static final int NODES_OF_A_MODE = 8;

  private static final double FACTOR = 0.035;
  private static final double POWER = 1.365;

  /** Returns the LUTs of six inputs that a lane of bytes is expected to have, at least 1. */
  static int luts(Predecoder lane) {
    double luts = 0;
    int modes = lane.instructionSet().table().modes().size();
    for (int prefixes = 0; prefixes <= lane.mostFolded(); prefixes++) {
      luts += of(LaneTable.of(lane, prefixes), modes).luts();
    }
    return (int) Math.max(1, Math.round(luts));
  }

  private double luts() {
    int worth = nodes + NODES_OF_A_MODE * modes + (hasSpecifiers ? NODES_OF_SPECIFIERS : 0);
    return FACTOR * Math.pow(worth, POWER);
  }

  /** Measures a lane of bytes behind so many folded prefixes. */
  static NetworkShape of(LaneTable table, int modes) {
    int nodes = 0;
    for (int[] map : maps(table)) {
      Work.check();
      nodes += nodes(map);
    }
    return new NetworkShape(nodes, !table.specifiers().isEmpty(), modes);
  }

  /** Tells whether a lane can be measured: its code units are bytes. */
  static boolean measures(Predecoder lane) {
    return lane.instructionSet().table().unit().bytes() == 1;
  }

  /** Returns, for each map read, the number of each code's outcome, or -1 for anything. */
  private static List<int[]> maps(LaneTable table) {
    List<List<LaneRow>> found = new ArrayList<>();
    Set<LaneRow> known = new LinkedHashSet<>();
    found.add(table.maps().get(0).rows());
    List<int[]> maps = new ArrayList<>();
    for (int next = 0; next < found.size(); next++) {
      int[] numbers = new int[CODES];
      Map<LaneRow, Integer> kinds = new LinkedHashMap<>();
      for (int code = 0; code < CODES; code++) {
        LaneRow row = shortened(found.get(next).get(code));
        numbers[code] =
            row instanceof LaneRow.Anything ? -1 : kinds.computeIfAbsent(row, r -> kinds.size());
      }
      maps.add(numbers);
      for (LaneRow row : kinds.keySet()) {
        if (row instanceof LaneRow.Escape escape && known.add(row)) {
          found.add(table.maps().get(escape.map()).rows());
        } else if (row instanceof LaneRow.ByNextByte split && known.add(row)) {
          found.add(split.rows());
        }
      }
    }
    return maps;
  }

  /** A row that depends on the next byte only by name says what all its rows say. */
  private static LaneRow shortened(LaneRow row) {
    if (!(row instanceof LaneRow.ByNextByte split)) {
      return row;
    }
    List<LaneRow> said =
        split.rows().stream().filter(r -> !(r instanceof LaneRow.Anything)).distinct().toList();
    return said.isEmpty() ? new LaneRow.Anything() : said.size() == 1 ? said.get(0) : row;
  }

  /** Returns the nodes of a map's diagram, below its root. */
  private static int nodes(int[] map) {
    int nodes = 0;
    int last = 0;
    for (int level = 1; level < BITS; level++) {
      int fewest = CODES;
      int chosen = 0;
      for (int bit = 1; bit < CODES; bit <<= 1) {
        int columns = (last & bit) != 0 ? CODES : columns(map, last | bit);
        if (columns < fewest) {
          fewest = columns;
          chosen = last | bit;
        }
      }
      last = chosen;
      nodes += fewest;
    }
    return nodes;
  }

  /** Returns the different functions of the last bits that are read. */
  private static int columns(int[] map, int last) {
    int[] places = places(last);
    List<int[]> columns = new ArrayList<>();
    for (int first : places(CODES - 1 & ~last)) {
      columns.add(Arrays.stream(places).map(place -> map[first | place]).toArray());
    }
    // Those that say most come first, so that the others find a place.
    columns.sort(Comparator.comparingLong(c -> Arrays.stream(c).filter(kind -> kind < 0).count()));
    List<int[]> apart = new ArrayList<>();
    for (int[] column : columns) {
      if (apart.stream().noneMatch(other -> join(other, column))) {
        apart.add(column);
      }
    }
    return apart.size();
  }

  /** Returns the codes whose ones are all among some bits. */
  private static int[] places(int bits) {
    return IntStream.range(0, CODES).filter(code -> (code & ~bits) == 0).toArray();
  }

  /** Writes a column into another one if they agree. */
  private static boolean join(int[] into, int[] column) {
    for (int i = 0; i < into.length; i++) {
      if (into[i] >= 0 && column[i] >= 0 && into[i] != column[i]) {
        return false;
      }
    }
    for (int i = 0; i < into.length; i++) {
      into[i] = into[i] < 0 ? column[i] : into[i];
    }
    return true;
  }
}

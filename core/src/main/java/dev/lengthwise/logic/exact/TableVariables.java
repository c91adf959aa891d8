package dev.lengthwise.logic.exact;

import dev.lengthwise.logic.sat.Sat;
import java.util.HashMap;
import java.util.Map;

/** The tables of a wiring's nodes as variables of a solver, and the values that they make. */
final class TableVariables {

  private final Wiring topology;
  private final Sat sat;
  private final int[] supports;
  private final int[][] tableBits;
  private final Map<Long, Integer> values = new HashMap<>();

  /** Starts with a variable for each entry of each table; entries may share one. */
  TableVariables(Wiring topology, Sat sat, int[][] tableBits) {
    this.topology = topology;
    this.sat = sat;
    this.supports = topology.supports();
    this.tableBits = tableBits;
  }

  /** Returns the variable of a node's value at a point, with the clauses that define it. */
  int value(int node, int point) {
    long key = (long) node << 32 | (point & supports[node]);
    Integer known = values.get(key);
    if (known != null) {
      return known;
    }
    int[] fanIns = topology.fanIns()[node];
    int fixed = 0;
    int[] inner = new int[fanIns.length];
    int[] position = new int[fanIns.length];
    int count = 0;
    for (int k = 0; k < fanIns.length; k++) {
      if (fanIns[k] < topology.sources()) {
        fixed |= (point >> fanIns[k] & 1) << k;
      } else {
        inner[count] = value(fanIns[k] - topology.sources(), point);
        position[count++] = k;
      }
    }
    int variable = count == 0 ? tableBits[node][fixed] : sat.newVariable();
    values.put(key, variable);
    for (int c = 0; c < 1 << count && count > 0; c++) {
      int index = fixed;
      int[] same = new int[count + 2];
      for (int k = 0; k < count; k++) {
        boolean one = (c >> k & 1) != 0;
        index |= one ? 1 << position[k] : 0;
        same[k] = one ? -inner[k] : inner[k];
      }
      int bit = tableBits[node][index];
      same[count] = -bit;
      same[count + 1] = variable;
      sat.addClause(same);
      same[count] = bit;
      same[count + 1] = -variable;
      sat.addClause(same);
    }
    return variable;
  }

  /** Returns the tables that the solver found, packed. */
  long[][] tables() {
    long[][] result = new long[tableBits.length][];
    for (int i = 0; i < result.length; i++) {
      result[i] = new long[Math.max(1, tableBits[i].length >> 6)];
      for (int b = 0; b < tableBits[i].length; b++) {
        if (sat.value(tableBits[i][b])) {
          result[i][b >> 6] |= 1L << b;
        }
      }
    }
    return result;
  }
}

package dev.lengthwise.logic.exact;

import dev.lengthwise.logic.sat.Sat;
import java.util.Arrays;

/**
 * Finds the tables of a network with given wiring, by satisfiability: every table bit is a free
 * variable, and with it every code that passes between LUTs.
 *
 * <p>A LUT's value in a row is a variable shared by all rows that agree on the sources it depends
 * on; for a LUT that reads sources only it is the table bit itself. Rows are added as
 * counter-examples, so most of a large table never reaches the solver.
 */
public final class RelationSynthesis {

  private final Wiring topology;
  private final Relation relation;
  private final Sat sat = Sat.create();
  private final TableVariables variables;
  private final boolean[] added;
  private Sat.Verdict verdict = Sat.Verdict.UNDECIDED;

  private RelationSynthesis(Wiring topology, Relation relation) {
    this.topology = topology;
    this.relation = relation;
    this.added = new boolean[relation.points().length];
    int[][] tableBits = new int[topology.fanIns().length][];
    boolean[] drives = new boolean[tableBits.length];
    for (int signal : topology.outputs()) {
      if (signal >= topology.sources()) {
        drives[signal - topology.sources()] = true;
      }
    }
    for (int i = 0; i < tableBits.length; i++) {
      tableBits[i] = new int[1 << topology.fanIns()[i].length];
      for (int b = 0; b < tableBits[i].length; b++) {
        tableBits[i][b] = sat.newVariable();
      }
      if (!drives[i]) {
        // A code bit may be inverted at will, so take the one that is 0 at its first entry.
        sat.addClause(-tableBits[i][0]);
      }
    }
    this.variables = new TableVariables(topology, sat, tableBits);
  }

  /** The end of a search: the tables if found, and whether none exist. */
  public static final class Result {

    private final Sat.Verdict verdict;
    private final long[][] tables;

    private Result(Sat.Verdict verdict, long[][] tables) {
      this.verdict = verdict;
      this.tables = tables;
    }

    public Sat.Verdict verdict() {
      return verdict;
    }

    /** Returns the table of each node, packed; only after {@code SATISFIABLE}. */
    public long[][] tables() {
      return tables;
    }
  }

  /**
   * Searches for tables.
   *
   * @param topology the wiring
   * @param relation what its outputs must do
   * @param conflicts the most conflicts to spend
   */
  public static Result solve(Wiring topology, Relation relation, int conflicts) {
    return new RelationSynthesis(topology, relation).run(conflicts);
  }

  private Result run(int conflicts) {
    int rows = relation.points().length;
    int step = Math.max(1, rows / 48);
    for (int r = 0; r < rows; r += step) {
      addRow(r);
    }
    for (int round = 0; round < rows + 1; round++) {
      verdict = sat.solve(conflicts);
      if (verdict != Sat.Verdict.SATISFIABLE) {
        return new Result(verdict, new long[0][]);
      }
      long[][] tables = variables.tables();
      if (!addWrongRows(tables)) {
        return new Result(verdict, tables);
      }
    }
    throw new IllegalStateException("topology solver: a row added must hold, found one that fails");
  }

  private boolean addWrongRows(long[][] tables) {
    int found = 0;
    int rows = relation.points().length;
    int most = 16 + rows / 16;
    for (int i = 0; i < rows && found < most; i++) {
      // A stride coprime to any power of two spreads the counter-examples over the table.
      int r = (int) (i * 10007L % rows);
      if (rows % 10007 == 0) {
        r = i;
      }
      int combination = combination(tables, relation.points()[r]);
      if ((relation.allowed()[r] >>> combination & 1) == 0) {
        if (added[r]) {
          throw new IllegalStateException(
              "topology solver: a row added must hold, found one that fails");
        }
        addRow(r);
        found++;
      }
    }
    return found > 0;
  }

  private int combination(long[][] tables, int point) {
    int sources = topology.sources();
    boolean[] value = new boolean[sources + tables.length];
    for (int s = 0; s < sources; s++) {
      value[s] = (point >> s & 1) != 0;
    }
    for (int i = 0; i < tables.length; i++) {
      int index = 0;
      int[] fanIns = topology.fanIns()[i];
      for (int k = 0; k < fanIns.length; k++) {
        index |= value[fanIns[k]] ? 1 << k : 0;
      }
      value[sources + i] = (tables[i][index >> 6] >>> index & 1) != 0;
    }
    int result = 0;
    for (int o = 0; o < topology.outputs().length; o++) {
      result |= value[topology.outputs()[o]] ? 1 << o : 0;
    }
    return result;
  }

  private void addRow(int row) {
    added[row] = true;
    int point = relation.points()[row];
    long allowed = relation.allowed()[row];
    int outputs = relation.outputs();
    long rest = Relation.all(outputs);
    for (int o = 0; o < outputs; o++) {
      for (boolean value : new boolean[] {false, true}) {
        if ((allowed & Relation.with(o, !value, outputs)) == 0) {
          rest &= Relation.with(o, value, outputs);
          addOutputClause(point, new int[] {o}, value ? 0 : 1);
        }
      }
    }
    int[] every = new int[outputs];
    Arrays.setAll(every, o -> o);
    for (long bad = rest & ~allowed; bad != 0; bad &= bad - 1) {
      addOutputClause(point, every, Long.numberOfTrailingZeros(bad));
    }
  }

  /** Forbids that the given outputs have the values in the bits of {@code combination}. */
  private void addOutputClause(int point, int[] outputs, int combination) {
    int[] clause = new int[outputs.length];
    int length = 0;
    for (int k = 0; k < outputs.length; k++) {
      boolean bad = (combination >> k & 1) != 0;
      int signal = topology.outputs()[outputs[k]];
      if (signal < topology.sources()) {
        if ((point >> signal & 1) != 0 != bad) {
          return;
        }
      } else {
        int variable = variables.value(signal - topology.sources(), point);
        clause[length++] = bad ? -variable : variable;
      }
    }
    sat.addClause(Arrays.copyOf(clause, length));
  }
}

package dev.lengthwise.logic.exact;

import dev.lengthwise.logic.sat.Sat;
import java.util.Arrays;
import java.util.BitSet;
import java.util.Optional;

/**
 * Finds the tables of a block with given wiring, and the codes at its outputs, by satisfiability.
 *
 * <p>A LUT's value in a row is a variable shared by all rows that agree on the sources it depends
 * on; for a LUT that reads sources only it is the table bit itself. Rows are added as
 * counter-examples, so most of a large care set never reaches the solver.
 */
public final class EncodingSynthesis {

  /**
   * Tables and codes that solve a problem.
   *
   * @param tables the packed table of each node
   * @param codes for each class the codes that it has, as a bit set
   */
  // Package-internal and never compared, so arrays do.
  @SuppressWarnings("ArrayRecordComponent")
  public record Solution(long[][] tables, BitSet[] codes) {}

  /** The end of a search. */
  public record Result(Sat.Verdict verdict, Optional<Solution> solution, int conflictsAllowed) {}

  private final EncodingProblem problem;
  private final Wiring topology;
  private final Sat sat = Sat.create();
  private final int[][] hasCode;
  private final TableVariables variables;
  private final boolean[] added;
  private final SourceWords words;

  /** Further clauses that tie the codes of the classes to each other. */
  public interface Link {

    /** Adds the clauses; {@code hasCode[c][code]} holds if class c may have that code. */
    void addTo(Sat sat, int[][] hasCode);

    /** Reads what else the model says. */
    void read(Sat sat);

    /** The link that adds nothing. */
    Link NONE =
        new Link() {
          @Override
          public void addTo(Sat sat, int[][] hasCode) {}

          @Override
          public void read(Sat sat) {}
        };
  }

  private final Link link;

  public EncodingSynthesis(Wiring topology, EncodingProblem problem, SourceWords words, Link link) {
    this(topology, problem, words, link, new int[0][]);
  }

  /**
   * Prepares a search.
   *
   * @param tied for each of the first nodes, for each entry of its table the one that it copies
   */
  public EncodingSynthesis(
      Wiring topology, EncodingProblem problem, SourceWords words, Link link, int[][] tied) {
    this.link = link;
    this.topology = topology;
    this.problem = problem;
    this.words = words;
    this.added = new boolean[problem.rows()];
    int[][] tableBits = new int[topology.fanIns().length][];
    boolean freeCodes = link == Link.NONE;
    for (BitSet set : problem.permitted()) {
      freeCodes &= set.cardinality() == 1 << problem.outputs();
    }
    for (int i = 0; i < tableBits.length; i++) {
      tableBits[i] = new int[1 << topology.fanIns()[i].length];
      Arrays.setAll(tableBits[i], b -> sat.newVariable());
      if (i < tied.length) {
        int[] own = tableBits[i].clone();
        int[] from = tied[i];
        Arrays.setAll(tableBits[i], b -> own[from[b]]);
      }
      if (freeCodes || !isOutput(i)) {
        // A code bit may be inverted at will, so take the one that is 0 at its first entry.
        sat.addClause(-tableBits[i][0]);
      }
    }
    this.variables = new TableVariables(topology, sat, tableBits);
    this.hasCode = new int[problem.groups().length][];
    addCodeClauses();
    link.addTo(sat, hasCode);
  }

  private boolean isOutput(int node) {
    return Arrays.stream(topology.outputs()).anyMatch(o -> o == topology.sources() + node);
  }

  private void addCodeClauses() {
    int codes = 1 << problem.outputs();
    for (int c = 0; c < hasCode.length; c++) {
      hasCode[c] = new int[codes];
      for (int code = 0; code < codes; code++) {
        hasCode[c][code] = sat.newVariable();
        if (!problem.permitted()[c].get(code)) {
          sat.addClause(-hasCode[c][code]);
        }
        for (int other = 0; other < c; other++) {
          if (problem.groups()[other] == problem.groups()[c]
              && problem.permitted()[c].get(code)
              && problem.permitted()[other].get(code)) {
            sat.addClause(-hasCode[c][code], -hasCode[other][code]);
          }
        }
      }
    }
  }

  /**
   * Searches for tables and codes.
   *
   * @param conflicts the most conflicts to spend in all rounds together
   */
  public Result solve(int conflicts) {
    int rows = problem.rows();
    int initial = rows <= 600 ? rows : 160;
    for (int i = 0; i < initial; i++) {
      addRow((int) ((long) i * rows / initial));
    }
    for (int round = 0; round <= rows; round++) {
      Sat.Verdict verdict = sat.solve(conflicts);
      if (verdict != Sat.Verdict.SATISFIABLE) {
        return new Result(verdict, Optional.empty(), conflicts);
      }
      Solution solution = model();
      if (!addWrongRows(solution)) {
        link.read(sat);
        return new Result(verdict, Optional.of(solution), conflicts);
      }
    }
    throw new IllegalStateException("code solver: a row added must hold, found one that fails");
  }

  private Solution model() {
    BitSet[] codes = new BitSet[hasCode.length];
    for (int c = 0; c < codes.length; c++) {
      codes[c] = new BitSet();
      for (int code = 0; code < hasCode[c].length; code++) {
        codes[c].set(code, sat.value(hasCode[c][code]));
      }
    }
    return new Solution(variables.tables(), codes);
  }

  private boolean addWrongRows(Solution solution) {
    long[][] out = words.evaluate(topology, solution.tables());
    int rows = problem.rows();
    int found = 0;
    int most = 200;
    int stride = words.stride();
    int row = 0;
    for (int i = 0; i < rows && found < most; i++) {
      row += stride;
      row = row >= rows ? row - rows : row;
      int code = 0;
      for (int o = 0; o < out.length; o++) {
        code |= (int) (out[o][row >> 6] >>> row & 1) << o;
      }
      if (!solution.codes()[problem.classes()[row]].get(code)) {
        if (added[row]) {
          throw new IllegalStateException(
              "code solver: a row added must hold, found one that fails");
        }
        addRow(row);
        found++;
      }
    }
    return found > 0;
  }

  private void addRow(int row) {
    if (added[row]) {
      return;
    }
    added[row] = true;
    int point = problem.points()[row];
    int outputs = problem.outputs();
    int[] literals = new int[outputs];
    int fixed = 0;
    int fixedMask = 0;
    for (int o = 0; o < outputs; o++) {
      int signal = topology.outputs()[o];
      if (signal < topology.sources()) {
        fixedMask |= 1 << o;
        fixed |= (point >> signal & 1) << o;
      } else {
        literals[o] = variables.value(signal - topology.sources(), point);
      }
    }
    int[] has = hasCode[problem.classes()[row]];
    for (int code = 0; code < 1 << outputs; code++) {
      if ((code & fixedMask) != fixed) {
        continue;
      }
      int[] clause = new int[outputs + 1];
      int length = 0;
      for (int o = 0; o < outputs; o++) {
        if ((fixedMask >> o & 1) == 0) {
          clause[length++] = (code >> o & 1) != 0 ? -literals[o] : literals[o];
        }
      }
      clause[length++] = has[code];
      sat.addClause(Arrays.copyOf(clause, length));
    }
  }
}

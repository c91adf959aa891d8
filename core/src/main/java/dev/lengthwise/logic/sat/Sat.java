package dev.lengthwise.logic.sat;

/**
 * A satisfiability solver, as much of it as this package needs.
 *
 * <p>Variables are 1, 2, ...; a literal is a variable or its negative. The same calls give the same
 * answers and models on every run.
 */
public interface Sat {

  /** What a search ended with. */
  enum Verdict {
    /** A model was found; {@link Sat#value} reads it. */
    SATISFIABLE,
    /** There is none. */
    UNSATISFIABLE,
    /** The conflicts allowed were used up. */
    UNDECIDED
  }

  /** Returns a solver without clauses. */
  static Sat create() {
    return new Sat4jSat();
  }

  /** Returns a variable not used before. */
  int newVariable();

  /** Adds a clause; one without literals makes the clauses unsatisfiable. */
  void addClause(int... literals);

  /**
   * Looks for a model.
   *
   * @param conflicts the most conflicts to spend, at least 1
   * @param assumptions literals that must hold in this search only
   */
  Verdict solve(int conflicts, int... assumptions);

  /** Returns a variable's value in the model of the last search, which must have found one. */
  boolean value(int variable);
}

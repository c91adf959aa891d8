package dev.lengthwise.logic;

/** Is told how a search for a network goes on, by one thread at a time. */
@FunctionalInterface
public interface SearchProgress {

  /** Listens to nothing. */
  SearchProgress NONE = (attempts, best) -> {};

  /**
   * Reports.
   *
   * @param attempts the attempts made so far, or the rounds of rewriting
   * @param best the LUTs of the best network so far, or 0
   */
  void report(int attempts, int best);
}

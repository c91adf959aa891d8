package dev.lengthwise.logic;

/** How much work a search may spend. Counted in steps, never in time, so results repeat. */
public enum Effort {
  /** Seconds for a table of nine inputs. */
  QUICK(3, 4_000, 60_000, 4),
  /** Minutes for a table of nine inputs. */
  THOROUGH(24, 40_000, 100_000, 8);

  final int starts;
  final int steps;
  final int annealMoves;
  final int annealTries;

  Effort(int starts, int steps, int annealMoves, int annealTries) {
    this.starts = starts;
    this.steps = steps;
    this.annealMoves = annealMoves;
    this.annealTries = annealTries;
  }
}

package dev.lengthwise.logic;

/** How much work a search may spend. Counted in steps, never in time, so results repeat. */
public enum Effort {
  /** Seconds for a table of nine inputs. */
  QUICK(3, 4_000, 60_000, 4, 400, 400, 4),
  /** Minutes for a table of nine inputs. */
  THOROUGH(24, 40_000, 100_000, 8, 10_000, 2_000, 8);

  final int starts;
  final int steps;
  final int annealMoves;
  final int annealTries;

  /** How often each LUT of a lane is looked at to shrink the lane. */
  final int looks;

  /** How often it is looked at before a level is saved. */
  final int looksALevel;

  /** The tries for a level less, of which the smallest network goes on. */
  final int levelTries;

  Effort(
      int starts,
      int steps,
      int annealMoves,
      int annealTries,
      int looks,
      int looksALevel,
      int levelTries) {
    this.starts = starts;
    this.steps = steps;
    this.annealMoves = annealMoves;
    this.annealTries = annealTries;
    this.looks = looks;
    this.looksALevel = looksALevel;
    this.levelTries = levelTries;
  }
}

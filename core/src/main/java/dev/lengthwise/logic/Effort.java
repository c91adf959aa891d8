package dev.lengthwise.logic;

/** How much work a search may spend. Counted in steps, never in time, so results repeat. */
public enum Effort {
  /** Seconds for a table of nine inputs. */
  QUICK,
  /** Minutes for a table of nine inputs. */
  THOROUGH;

  private int knob(int quick, int thorough) {
    return switch (this) {
      case QUICK -> quick;
      case THOROUGH -> thorough;
    };
  }

  /**
   * Returns how many networks are started for a table.
   *
   * @return at least 1
   */
  public int starts() {
    return knob(3, 24);
  }

  /**
   * Returns the steps of the walk that shrinks each of them.
   *
   * @return at least 1
   */
  public int steps() {
    return knob(4_000, 40_000);
  }

  /**
   * Returns the LUTs that each of the best starts looks at in the race for the rest.
   *
   * @return at least 1
   */
  public int raceLooks() {
    return knob(3_000, 10_000);
  }

  /**
   * Returns the LUTs that the winner looks at.
   *
   * @return at least 1
   */
  public int walkLooks() {
    return knob(25_000, 100_000);
  }

  /**
   * Returns the moves of an annealing of codes.
   *
   * @return at least 1
   */
  public int annealMoves() {
    return knob(60_000, 100_000);
  }

  /**
   * Returns how often codes are annealed.
   *
   * @return at least 1
   */
  public int annealTries() {
    return knob(4, 8);
  }

  /**
   * Returns the rounds in which codes across a lane are chosen.
   *
   * @return at least 1
   */
  public int codeRounds() {
    return knob(1, 10);
  }

  /**
   * Returns the wirings that are drawn for a plan of a block.
   *
   * @return at least 1
   */
  public int wiringTries() {
    return knob(5, 100);
  }

  /**
   * Returns the conflicts that the solver may spend on a wiring.
   *
   * @return at least 1
   */
  public int wiringConflicts() {
    return knob(3_000, 10_000);
  }

  /**
   * Returns how many wirings of a code of operand specifiers are tried where one has led to a code
   * already.
   *
   * @return at least 1
   */
  public int specifierWirings() {
    return knob(256, 1_500);
  }

  /**
   * Returns how often each LUT of a lane is looked at to shrink the lane.
   *
   * @return at least 1
   */
  public int looks() {
    return knob(400, 10_000);
  }

  /**
   * Returns how often it is looked at before a level is saved.
   *
   * @return at least 1
   */
  public int looksALevel() {
    return knob(150, 2_000);
  }

  /**
   * Returns the tries for a level less, of which the smallest network goes on.
   *
   * @return at least 1
   */
  public int levelTries() {
    return knob(4, 8);
  }
}

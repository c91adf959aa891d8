package dev.lengthwise.logic.support;

/**
 * Two inputs that may be exchanged without changing any output that matters.
 *
 * @param first the lower input
 * @param second the higher input
 * @param inverted false if the inputs may be swapped as they are, (0,1) for (1,0); true if they may
 *     be swapped when both are inverted too, (0,0) for (1,1)
 */
public record SymmetryPair(int first, int second, boolean inverted) {

  @Override
  public String toString() {
    return first + (inverted ? "~!" : "~") + second;
  }
}

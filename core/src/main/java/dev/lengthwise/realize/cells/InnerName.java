package dev.lengthwise.realize.cells;

/** Names of blocks inside a block that a user named. */
public final class InnerName {

  private InnerName() {}

  /**
   * Returns the outer name and a word, or another word where the outer name ends with the first:
   * {@code tidegate_row_row} would read as a slip.
   */
  public static String of(String outer, String word, String otherWord) {
    boolean repeats = ("_" + outer).endsWith("_" + word);
    return outer + "_" + (repeats ? otherWord : word);
  }
}

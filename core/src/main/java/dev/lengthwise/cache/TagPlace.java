package dev.lengthwise.cache;

/** Where the tags are kept, and so when they are compared. */
public enum TagPlace {
  /** In block RAM, beside the data: compared in the cycle in which both arrive. */
  BLOCK_RAM("block_ram"),
  /**
   * In distributed RAM, read and compared in the cycle that gives the data RAM its address: the way
   * is known when the data arrive.
   */
  DISTRIBUTED_RAM("distributed_ram");

  private final String label;

  TagPlace(String label) {
    this.label = label;
  }

  /**
   * Returns the name in tables and emitted heads.
   *
   * @return lower snake case
   */
  public String label() {
    return label;
  }
}

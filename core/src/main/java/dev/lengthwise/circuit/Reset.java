package dev.lengthwise.circuit;

/** How the registers of a block are reset; always synchronous. */
public enum Reset {
  /** A port {@code reset}, 1 to reset. */
  ACTIVE_HIGH,
  /** A port {@code reset_n}, 0 to reset. */
  ACTIVE_LOW,
  /** No reset: registers start unknown in hardware, and as 0 in the built-in simulator. */
  NONE
}

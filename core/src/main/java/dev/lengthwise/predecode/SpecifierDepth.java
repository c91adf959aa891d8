package dev.lengthwise.predecode;

/** How far a lane follows the bytes after the opcode; each depth includes those before it. */
public enum SpecifierDepth {
  /** Reads the opcode alone; a row is handled if no byte after it can change the length. */
  NONE,
  /** Reads the operand specifier's byte; a row is handled where that byte alone decides. */
  BYTE,
  /** Reads the operand specifier's byte and the index byte after it. */
  INDEX_BYTE,
  /** Follows rows that depend on the byte after the opcode, too. */
  EVERYTHING
}

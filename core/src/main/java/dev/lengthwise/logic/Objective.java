package dev.lengthwise.logic;

/** What a mapper minimises first. */
public enum Objective {
  /** LUTs first, then levels, or delay where a model of delays is given. */
  AREA,
  /** Levels, or delay, first, then LUTs. */
  DEPTH
}

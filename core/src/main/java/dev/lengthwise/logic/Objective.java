package dev.lengthwise.logic;

/** What a mapper minimises first. */
public enum Objective {
  /** LUTs first, then levels. */
  AREA,
  /** Levels first, then LUTs. */
  DEPTH
}

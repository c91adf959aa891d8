package dev.lengthwise.javamodel;

import java.util.Locale;

/** How a model reads memory. */
enum Reading {
  /** A byte at or past {@code end} is missing, and the model says so. */
  BOUNDED("memory, %s, end, modes", "TOO_FEW_BYTES", "UNDEFINED"),
  /** A byte past the end of the memory reads as 0. */
  PADDED("memory, %s, modes", "NOT_HANDLED", "NOT_HANDLED");

  private final String arguments;
  private final String undecided;
  private final String none;

  Reading(String arguments, String undecided, String none) {
    this.arguments = arguments;
    this.undecided = undecided;
    this.none = none;
  }

  /** Returns the arguments of a private method that reads from a place on. */
  String arguments(String place) {
    return String.format(Locale.ROOT, arguments, place);
  }

  /** Returns the constant that stands for bytes that are missing or not seen. */
  String undecided() {
    return undecided;
  }

  /** Returns the constant that stands for a row without a length. */
  String none() {
    return none;
  }
}

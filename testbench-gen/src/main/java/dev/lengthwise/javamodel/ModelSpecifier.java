package dev.lengthwise.javamodel;

import dev.lengthwise.table.OperandSpecifier;
import java.util.List;
import java.util.OptionalInt;

/**
 * An operand specifier as far as a model reads it.
 *
 * @param specifier the specifier
 * @param readsNext false if the model must do without the byte after the specifier byte
 */
record ModelSpecifier(OperandSpecifier specifier, boolean readsNext) {

  /** Tells whether a model that reads so far can be left without an answer. */
  boolean isEverUndecided(List<String> modeNames) {
    for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
      for (int value = 0; value < 256; value++) {
        if (!readsNext && addedByByte(value, modeNames, modes).isEmpty()) {
          return true;
        }
      }
    }
    return false;
  }

  /** Returns the bytes added if the specifier byte alone decides them. */
  OptionalInt addedByByte(int value, List<String> modeNames, int modes) {
    int first = specifier.added(value, 0, modeNames, modes);
    if (specifier.readsNext(value, modeNames, modes)) {
      for (int next = 1; next < 256; next++) {
        if (specifier.added(value, next, modeNames, modes) != first) {
          return OptionalInt.empty();
        }
      }
    }
    return OptionalInt.of(first);
  }
}

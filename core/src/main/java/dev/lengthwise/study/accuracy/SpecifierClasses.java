package dev.lengthwise.study.accuracy;

import dev.lengthwise.table.OperandSpecifier;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Bytes of an operand specifier that no lane can tell apart by the length: the same bytes added for
 * each byte after it.
 */
final class SpecifierClasses {

  private final OperandSpecifier specifier;
  private final List<String> modeNames;
  private final int modes;
  private final int[] classOfByte = new int[256];

  SpecifierClasses(OperandSpecifier specifier, List<String> modeNames, int modes) {
    this.specifier = specifier;
    this.modeNames = modeNames;
    this.modes = modes;
    Map<String, Integer> known = new HashMap<>();
    for (int value = 0; value < 256; value++) {
      char[] row = new char[readsNext(value) ? 256 : 1];
      for (int next = 0; next < row.length; next++) {
        row[next] = (char) specifier.added(value, next, modeNames, modes);
      }
      classOfByte[value] = known.computeIfAbsent(new String(row), key -> known.size());
    }
  }

  private boolean readsNext(int value) {
    return specifier.readsNext(value, modeNames, modes);
  }

  /** Returns the class of a specifier byte. */
  int classOf(int value) {
    return classOfByte[value];
  }

  /** Returns the bytes that are added. */
  int added(int value, int next) {
    return specifier.added(value, next, modeNames, modes);
  }
}

package dev.lengthwise.javamodel;

import java.util.Collections;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Gives each different row of a model a letter, in the order of the maps and codes. */
final class RowLetters {

  private static final String FIRST_LETTERS =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789!#$%&()+,-/:;<=>?@[]^_{|}~";

  /** Letters beyond the first; all are written as escapes. */
  private static final char MORE_LETTERS = '\u0100';

  private final Map<ModelRow, Character> letters = new LinkedHashMap<>();
  private final IdentityHashMap<ModelRow, Character> known = new IdentityHashMap<>();
  private int given;

  RowLetters(List<ModelMap> maps) {
    for (ModelMap map : maps) {
      map.rows().forEach(this::add);
      map.rows().forEach(row -> leaves(row).forEach(this::add));
    }
  }

  private static List<ModelRow> leaves(ModelRow row) {
    return row instanceof ModelRow.ByNextByte split ? split.rows() : List.of();
  }

  private void add(ModelRow row) {
    if (!known.containsKey(row)) {
      known.put(row, letters.computeIfAbsent(row, this::choose));
    }
  }

  private char choose(ModelRow row) {
    if (row instanceof ModelRow.None) {
      return '.';
    }
    if (row instanceof ModelRow.Anything) {
      return '*';
    }
    int index = given++;
    return index < FIRST_LETTERS.length()
        ? FIRST_LETTERS.charAt(index)
        : (char) (MORE_LETTERS + index - FIRST_LETTERS.length());
  }

  /** Returns the rows and their letters, in the order in which they were met. */
  Map<ModelRow, Character> letters() {
    return Collections.unmodifiableMap(letters);
  }

  /** Returns the letters of some rows as text. */
  String letters(List<ModelRow> rows) {
    StringBuilder text = new StringBuilder();
    for (ModelRow row : rows) {
      Character letter = known.get(row);
      text.append(letter == null ? letters.get(row) : letter);
    }
    return text.toString();
  }

  /** Returns letters as they stand between quotes in a Java source. */
  static String source(String text) {
    StringBuilder out = new StringBuilder();
    text.chars()
        .forEach(
            c -> {
              if (c < 0x80) {
                out.append((char) c);
              } else {
                out.append(String.format(Locale.ROOT, "\\u%04x", c));
              }
            });
    return out.toString();
  }
}

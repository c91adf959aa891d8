package dev.lengthwise.javamodel;

import java.util.Locale;

/** Java names made of the names in a description, which are lower snake case. */
final class JavaNames {

  private JavaNames() {}

  /** Returns {@code OneByte} for {@code one_byte}; an underscore stays before a digit. */
  static String camel(String name) {
    StringBuilder out = new StringBuilder();
    for (String word : name.split("_", -1)) {
      boolean digit = Character.isDigit(word.charAt(0));
      out.append(digit ? "_" : "")
          .append(word.substring(0, 1).toUpperCase(Locale.ROOT))
          .append(word.substring(1));
    }
    return out.toString();
  }

  /** Returns {@code MODE_WIDE} for {@code MODE} and {@code wide}. */
  static String constant(String kind, String name) {
    return kind + '_' + name.toUpperCase(Locale.ROOT);
  }

  static String mode(String mode) {
    return constant("MODE", mode);
  }

  static String lengthModel(String table) {
    return camel(table) + "LengthModel";
  }

  /** Returns the lane model's class; no two lanes have the same. */
  static String laneModel(String lane) {
    return camel(lane) + "Model";
  }
}

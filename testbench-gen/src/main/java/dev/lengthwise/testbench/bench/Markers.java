package dev.lengthwise.testbench.bench;

import java.util.Map;

/** Fills the markers of a text: words in capitals between two {@code @}. */
final class Markers {

  private Markers() {}

  static String filled(String template, Map<String, String> pieces) {
    String text = template;
    for (Map.Entry<String, String> piece : pieces.entrySet()) {
      text = text.replace(piece.getKey(), piece.getValue());
    }
    return text;
  }
}

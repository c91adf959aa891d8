package dev.lengthwise.javamodel;

import dev.lengthwise.table.ModeCondition;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.IntUnaryOperator;
import java.util.stream.Collectors;

/** Java expressions in the parameter {@code modes}. */
final class ModeText {

  private final List<String> modeNames;

  ModeText(List<String> modeNames) {
    this.modeNames = modeNames;
  }

  /** Returns the test of a condition, without parentheses around it; never of the empty one. */
  String holds(ModeCondition condition) {
    List<String> asked = condition.required().keySet().stream().map(JavaNames::mode).toList();
    List<String> ones =
        condition.required().entrySet().stream()
            .filter(Map.Entry::getValue)
            .map(entry -> JavaNames.mode(entry.getKey()))
            .toList();
    if (asked.size() == 1) {
      return "(modes & " + asked.get(0) + ") " + (ones.isEmpty() ? "== 0" : "!= 0");
    }
    return String.format(
        Locale.ROOT, "(modes & %s) == %s", mask(asked), ones.isEmpty() ? "0" : mask(ones));
  }

  private static String mask(List<String> constants) {
    return constants.size() == 1 ? constants.get(0) : "(" + String.join(" | ", constants) + ")";
  }

  /**
   * Returns a value that may depend on modes; {@code texts} prints a value.
   *
   * <p>Where each of several modes adds bytes of its own the text is a sum, otherwise a choice.
   */
  String value(IntUnaryOperator valueOfModes, Map<Integer, String> texts) {
    List<Integer> growths = new ArrayList<>();
    for (int bit = 0; bit < modeNames.size(); bit++) {
      growths.add(valueOfModes.applyAsInt(1 << bit) - valueOfModes.applyAsInt(0));
    }
    long growing = growths.stream().filter(growth -> growth != 0).count();
    return growing > 1 && isSum(growths, valueOfModes, texts)
        ? sum(valueOfModes.applyAsInt(0), growths)
        : value(0, 0, valueOfModes, texts);
  }

  private boolean isSum(
      List<Integer> growths, IntUnaryOperator valueOfModes, Map<Integer, String> texts) {
    for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
      int sum = valueOfModes.applyAsInt(0);
      for (int bit = 0; bit < modeNames.size(); bit++) {
        sum += (modes >> bit & 1) * growths.get(bit);
      }
      if (sum != valueOfModes.applyAsInt(modes) || texts.containsKey(sum)) {
        return false;
      }
    }
    return true;
  }

  private String sum(int first, List<Integer> growths) {
    StringBuilder text = new StringBuilder(Integer.toString(first));
    for (int bit = 0; bit < growths.size(); bit++) {
      if (growths.get(bit) != 0) {
        text.append(
            String.format(
                Locale.ROOT,
                " + ((modes & %s) != 0 ? %s : 0)",
                JavaNames.mode(modeNames.get(bit)),
                growths.get(bit)));
      }
    }
    return text.toString();
  }

  private String value(
      int bit, int fixed, IntUnaryOperator valueOfModes, Map<Integer, String> texts) {
    if (isConstant(bit, fixed, valueOfModes)) {
      int value = valueOfModes.applyAsInt(fixed);
      return texts.getOrDefault(value, Integer.toString(value));
    }
    String zero = value(bit + 1, fixed, valueOfModes, texts);
    String one = value(bit + 1, fixed | 1 << bit, valueOfModes, texts);
    if (zero.equals(one)) {
      return zero;
    }
    return String.format(
        Locale.ROOT,
        "(modes & %s) != 0 ? %s : %s",
        JavaNames.mode(modeNames.get(bit)),
        nested(one),
        nested(zero));
  }

  private static String nested(String text) {
    return text.contains("?") ? "(" + text + ")" : text;
  }

  private boolean isConstant(int bit, int fixed, IntUnaryOperator valueOfModes) {
    int first = valueOfModes.applyAsInt(fixed);
    for (int rest = 0; rest < 1 << (modeNames.size() - bit); rest++) {
      if (valueOfModes.applyAsInt(fixed | rest << bit) != first) {
        return false;
      }
    }
    return true;
  }

  /** Returns the word in which some modes are 1. */
  static String word(List<String> modes) {
    return modes.isEmpty()
        ? "0"
        : modes.stream().map(JavaNames::mode).collect(Collectors.joining(" | "));
  }
}

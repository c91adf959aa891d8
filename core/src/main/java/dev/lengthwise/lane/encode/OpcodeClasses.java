package dev.lengthwise.lane.encode;

import dev.lengthwise.lane.function.LaneFunction;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The classes of one map's codes: codes of a class behave alike in every mode.
 *
 * <p>A class's <em>behaviour</em> in a mode word is a base and an operand specifier, or an escape.
 * Specifiers that add the same in a mode word count as one, and one that adds nothing as none. A
 * class whose specifier comes and goes with the modes is split by mode word, so that its codes can
 * say in each mode whether a specifier follows; so is every class by the modes that are not late.
 */
final class OpcodeClasses {

  /**
   * What the rows of a class do in one mode word.
   *
   * @param base bytes without the specifier's addition, 0 for "not handled"
   * @param specifier the specifier, or -1
   * @param escape the map escaped to, or -1
   */
  record Behaviour(int base, int specifier, int escape) {}

  /**
   * A class.
   *
   * @param byModes the behaviour in each mode word, null in one that it does not cover
   */
  record MapClass(List<Behaviour> byModes) {

    boolean covers(int modeWord) {
      return byModes.get(modeWord) != null;
    }
  }

  private final LaneFunction shape;
  private final List<MapClass> classes = new ArrayList<>();
  private final int[][] classOf;

  private OpcodeClasses(LaneFunction shape) {
    this.shape = shape;
    this.classOf = new int[256][shape.modeWords()];
  }

  static OpcodeClasses of(LaneFunction shape, LaneFunction.CodeMap map, int lateModes) {
    OpcodeClasses result = new OpcodeClasses(shape);
    Map<MapClass, Integer> known = new LinkedHashMap<>();
    for (int code = 0; code < 256; code++) {
      Arrays.fill(result.classOf[code], -1);
      List<Behaviour> behaviours = result.behaviours(map.outcomes().get(code));
      if (behaviours.isEmpty()) {
        continue;
      }
      boolean split = behaviours.stream().map(b -> b.specifier() < 0).distinct().count() > 1;
      for (int word = 0; word < shape.modeWords(); word++) {
        List<Behaviour> own = new ArrayList<>(behaviours);
        boolean escape = behaviours.get(word).escape() >= 0;
        for (int other = 0; other < own.size() && !escape; other++) {
          boolean comes = own.get(other).specifier() < 0 != behaviours.get(word).specifier() < 0;
          if (split && comes || ((other ^ word) & ~lateModes) != 0) {
            own.set(other, null);
          }
        }
        MapClass key = new MapClass(java.util.Collections.unmodifiableList(own));
        result.classOf[code][word] =
            known.computeIfAbsent(
                key,
                k -> {
                  result.classes.add(k);
                  return result.classes.size() - 1;
                });
      }
    }
    return result;
  }

  private List<Behaviour> behaviours(LaneFunction.Outcome outcome) {
    List<Behaviour> result = new ArrayList<>();
    for (int word = 0; word < shape.modeWords(); word++) {
      if (outcome instanceof LaneFunction.Escape escape) {
        result.add(new Behaviour(0, -1, escape.map()));
      } else if (outcome instanceof LaneFunction.Bytes row) {
        int base = row.byModes().get(word);
        result.add(new Behaviour(base, base == 0 ? -1 : canonical(row.specifier(), word), -1));
      }
    }
    return result;
  }

  /** Returns the first specifier that adds the same in a mode word, or -1 if it adds nothing. */
  private int canonical(int specifier, int word) {
    if (specifier < 0 || shape.addsNothing(specifier, word)) {
      return -1;
    }
    for (int other = 0; other < specifier; other++) {
      if (shape.addsAlike(other, specifier, word)) {
        return other;
      }
    }
    return specifier;
  }

  List<MapClass> classes() {
    return classes;
  }

  /** Returns the class of a code in a mode word, or -1 if the lane may say anything. */
  int classOf(int code, int modeWord) {
    return classOf[code][modeWord];
  }

  boolean readsSpecifier() {
    return classes.stream()
        .flatMap(c -> c.byModes().stream())
        .anyMatch(b -> b != null && b.specifier() >= 0);
  }

  /** Returns the maps escaped to, ascending. */
  int[] escapes() {
    return classes.stream()
        .flatMap(c -> c.byModes().stream())
        .filter(b -> b != null && b.escape() >= 0)
        .mapToInt(Behaviour::escape)
        .distinct()
        .sorted()
        .toArray();
  }
}

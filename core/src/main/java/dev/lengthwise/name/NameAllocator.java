package dev.lengthwise.name;

import java.util.HashMap;
import java.util.HashSet;
import java.util.Locale;
import java.util.Map;
import java.util.Set;

/**
 * Hands out names that are legal in every emitted language and used once.
 *
 * <p>Names that must not change are reserved first. A wish that is taken gets a number: {@code
 * sum}, {@code sum_2}, {@code sum_3}. The same calls in the same order give the same names.
 */
public final class NameAllocator {

  private final Set<String> taken = new HashSet<>();
  private final Map<String, Integer> lastNumber = new HashMap<>();

  /** Makes an allocator to which no name is known. */
  public NameAllocator() {}

  /**
   * Takes a name as it is; taking it again does nothing.
   *
   * @param name a legal name
   * @return the name
   * @throws IllegalArgumentException if the name is not legal
   */
  public String reserve(String name) {
    taken.add(HdlName.requireMade("reserved name", name));
    return name;
  }

  /**
   * Tells whether a name is reserved or handed out.
   *
   * @param name any text
   * @return true if it is
   */
  public boolean isTaken(String name) {
    return taken.contains(name);
  }

  /**
   * Returns a free name as near to the wish as can be.
   *
   * @param wish any text
   * @return a legal name that was not taken; it is taken now
   */
  public String allocate(String wish) {
    String base = legalCharacters(wish);
    if (!HdlName.isReserved(base) && taken.add(base)) {
      return base;
    }
    int number = lastNumber.getOrDefault(base, 1);
    String name;
    do {
      number++;
      String suffix = "_" + number;
      name = cut(base, HdlName.LONGEST - suffix.length()) + suffix;
    } while (!taken.add(name));
    lastNumber.put(base, number);
    return name;
  }

  private static String legalCharacters(String wish) {
    String plain = wish.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "_");
    if (plain.startsWith("_")) {
      plain = plain.substring(1);
    }
    if (plain.isEmpty()) {
      plain = "unnamed";
    } else if (!Character.isLetter(plain.charAt(0))) {
      plain = "n" + plain;
    }
    return cut(plain, HdlName.LONGEST);
  }

  private static String cut(String name, int length) {
    String head = name.length() > length ? name.substring(0, length) : name;
    return head.endsWith("_") ? head.substring(0, head.length() - 1) : head;
  }
}

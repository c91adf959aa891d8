package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.TreeSet;

/**
 * The byte after an opcode whose bit patterns add displacement and index bytes.
 *
 * <p>The patterns read the specifier byte and, where a case asks for it, the byte after it (an
 * index byte). For every pair of bytes and every value of the modes exactly one case applies.
 *
 * @param name what the manual calls it
 * @param cases the cases, in input order
 */
public record OperandSpecifier(String name, List<Case> cases) {

  /** The most bytes a specifier can add. */
  public static final int MOST_ADDED = 16;

  /**
   * Copies the list and checks the cases against each other.
   *
   * @param name see OperandSpecifier
   * @param cases see OperandSpecifier
   * @throws IllegalArgumentException if the name is not legal
   * @throws DescriptionException if two cases overlap or a byte has no case, under some modes
   */
  public OperandSpecifier {
    HdlName.require("specifier", name);
    cases = List.copyOf(cases);
    DescriptionException.throwIfAny(faults(name, cases));
  }

  /**
   * One case.
   *
   * @param pattern an 8-bit pattern of the specifier byte
   * @param nextPattern an 8-bit pattern of the byte after it, if the case depends on it
   * @param when the modes that the case needs
   * @param bytes the bytes added after the specifier byte, in [0, {@value #MOST_ADDED}]; an index
   *     byte counts
   */
  public record Case(
      BitPattern pattern, Optional<BitPattern> nextPattern, ModeCondition when, int bytes) {

    /**
     * Checks the values.
     *
     * @param pattern see Case
     * @param nextPattern see Case
     * @param when see Case
     * @param bytes see Case
     * @throws IllegalArgumentException if a pattern is not 8 bits wide or {@code bytes} is out of
     *     range
     */
    public Case {
      Objects.requireNonNull(when, "when");
      checkWidth(pattern);
      nextPattern.ifPresent(Case::checkWidth);
      if (bytes < 0 || bytes > MOST_ADDED) {
        throw new IllegalArgumentException(
            "specifier case "
                + pattern
                + ": bytes must be in [0, "
                + MOST_ADDED
                + "], found "
                + bytes);
      }
    }

    private static void checkWidth(BitPattern pattern) {
      if (pattern.width() != 8) {
        throw new IllegalArgumentException(
            "specifier case: a pattern must be 8 bits wide, found " + pattern);
      }
    }

    boolean matches(int byteValue, int nextByte) {
      return pattern.matches(byteValue)
          && (nextPattern.isEmpty() || nextPattern.get().matches(nextByte));
    }

    @Override
    public String toString() {
      return pattern
          + nextPattern.map(next -> " then " + next).orElse("")
          + (when.equals(ModeCondition.ALWAYS) ? "" : " under " + when);
    }
  }

  /**
   * Returns the bytes that are added.
   *
   * @param specifierByte in [0, 0xff]
   * @param nextByte the byte after it, in [0, 0xff]; matters only if {@link #readsNext} says so
   * @param modeNames the modes in the order of the bits
   * @param modes mode i is bit i
   * @return bytes after the specifier byte, in [0, {@value #MOST_ADDED}]
   * @throws IllegalArgumentException if a mode that decides is not in the list
   */
  public int added(int specifierByte, int nextByte, List<String> modeNames, int modes) {
    Objects.requireNonNull(modeNames, "modeNames");
    for (Case c : cases) {
      if (c.matches(specifierByte, nextByte) && c.when().holds(modeNames, modes)) {
        return c.bytes();
      }
    }
    throw new IllegalArgumentException(
        String.format(
            Locale.ROOT,
            "specifier %s: the modes must be among those given, found cases %s and modes %s",
            name,
            cases,
            modeNames));
  }

  /**
   * Tells whether the byte after the specifier byte decides the length.
   *
   * @param specifierByte in [0, 0xff]
   * @param modeNames the modes in the order of the bits
   * @param modes mode i is bit i
   * @return true if a case with a second pattern applies
   */
  public boolean readsNext(int specifierByte, List<String> modeNames, int modes) {
    Objects.requireNonNull(modeNames, "modeNames");
    return cases.stream()
        .anyMatch(
            c ->
                c.nextPattern().isPresent()
                    && c.pattern().matches(specifierByte)
                    && c.when().holds(modeNames, modes));
  }

  private static List<String> faults(String name, List<Case> cases) {
    List<String> faults = new ArrayList<>();
    for (int i = 0; i < cases.size(); i++) {
      for (int j = i + 1; j < cases.size(); j++) {
        if (overlap(cases.get(i), cases.get(j))) {
          faults.add(
              String.format(
                  Locale.ROOT,
                  "specifier %s: cases must not overlap, found %s and %s",
                  name,
                  cases.get(i),
                  cases.get(j)));
        }
      }
    }
    firstGap(name, cases).ifPresent(faults::add);
    return faults;
  }

  private static boolean overlap(Case a, Case b) {
    return meet(a.pattern(), b.pattern())
        && (a.nextPattern().isEmpty()
            || b.nextPattern().isEmpty()
            || meet(a.nextPattern().get(), b.nextPattern().get()))
        && a.when().isCompatibleWith(b.when());
  }

  private static boolean meet(BitPattern a, BitPattern b) {
    return ((a.value() ^ b.value()) & a.mask() & b.mask()) == 0;
  }

  private static Optional<String> firstGap(String name, List<Case> cases) {
    TreeSet<String> names = new TreeSet<>();
    cases.forEach(c -> names.addAll(c.when().required().keySet()));
    List<String> modeNames = List.copyOf(names);
    if (modeNames.size() > LengthTable.MOST_MODES) {
      return Optional.of(
          String.format(
              Locale.ROOT,
              "specifier %s: at most %d modes are allowed, found %d",
              name,
              LengthTable.MOST_MODES,
              modeNames.size()));
    }
    for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
      for (int point = 0; point < 0x10000; point = following(cases, point)) {
        if (!covered(cases, point >> 8, point & 0xff, modeNames, modes)) {
          return Optional.of(
              String.format(
                  Locale.ROOT,
                  "specifier %s: every byte must have a case, found none for 0x%02x 0x%02x%s",
                  name,
                  point >> 8,
                  point & 0xff,
                  under(modeNames, modes)));
        }
      }
    }
    return Optional.empty();
  }

  /** Returns the next pair of bytes to look at; the second counts only where a case reads it. */
  private static int following(List<Case> cases, int point) {
    boolean readsNext =
        cases.stream()
            .anyMatch(c -> c.nextPattern().isPresent() && c.pattern().matches(point >> 8));
    return readsNext ? point + 1 : (point | 0xff) + 1;
  }

  private static boolean covered(
      List<Case> cases, int byteValue, int nextByte, List<String> modeNames, int modes) {
    for (Case c : cases) {
      if (c.matches(byteValue, nextByte) && c.when().holds(modeNames, modes)) {
        return true;
      }
    }
    return false;
  }

  private static String under(List<String> modeNames, int modes) {
    StringBuilder out = new StringBuilder();
    for (int i = 0; i < modeNames.size(); i++) {
      out.append(i == 0 ? " under " : " ")
          .append(modeNames.get(i))
          .append('=')
          .append(modes >> i & 1);
    }
    return out.toString();
  }

  /**
   * Starts a specifier.
   *
   * @param name what the manual calls it
   * @return a builder
   * @throws IllegalArgumentException if the name is not legal
   */
  public static Builder named(String name) {
    return new Builder(HdlName.require("specifier", name));
  }

  /**
   * Starts a copy; cases are added.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(this);
  }

  /** Collects the cases of a specifier. */
  public static final class Builder {

    private final String name;
    private final List<Case> cases = new ArrayList<>();

    private Builder(String name) {
      this.name = name;
    }

    private Builder(OperandSpecifier specifier) {
      this(specifier.name);
      cases.addAll(specifier.cases);
    }

    /**
     * Adds a case under every mode.
     *
     * @param pattern an 8-bit pattern of the specifier byte
     * @param bytes the bytes added, in [0, {@value #MOST_ADDED}]
     * @return this builder
     * @throws IllegalArgumentException if the pattern is malformed or {@code bytes} out of range
     */
    public Builder when(String pattern, int bytes) {
      return when(ModeCondition.ALWAYS, pattern, bytes);
    }

    /**
     * Adds a case.
     *
     * @param modes the modes it needs
     * @param pattern an 8-bit pattern of the specifier byte
     * @param bytes the bytes added, in [0, {@value #MOST_ADDED}]
     * @return this builder
     * @throws IllegalArgumentException if the pattern is malformed or {@code bytes} out of range
     */
    public Builder when(ModeCondition modes, String pattern, int bytes) {
      Objects.requireNonNull(modes, "modes");
      cases.add(new Case(BitPattern.parse(pattern), Optional.empty(), modes, bytes));
      return this;
    }

    /**
     * Adds a case that reads the next byte too.
     *
     * @param modes the modes it needs
     * @param pattern an 8-bit pattern of the specifier byte
     * @param nextPattern an 8-bit pattern of the byte after it
     * @param bytes the bytes added, in [0, {@value #MOST_ADDED}]; the next byte counts if it
     *     belongs to the operand
     * @return this builder
     * @throws IllegalArgumentException if a pattern is malformed or {@code bytes} out of range
     */
    public Builder when(ModeCondition modes, String pattern, String nextPattern, int bytes) {
      Objects.requireNonNull(modes, "modes");
      Objects.requireNonNull(nextPattern, "nextPattern");
      cases.add(
          new Case(
              BitPattern.parse(pattern), Optional.of(BitPattern.parse(nextPattern)), modes, bytes));
      return this;
    }

    /**
     * Builds the specifier.
     *
     * @return the specifier
     * @throws DescriptionException if two cases overlap or a byte has no case, under some modes
     */
    public OperandSpecifier build() {
      return new OperandSpecifier(name, cases);
    }
  }
}

package dev.lengthwise.name;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The rule for a name that is legal in Verilog, SystemVerilog, VHDL and Java alike.
 *
 * <p>A legal name is lower snake case: {@code [a-z]} first, then {@code [a-z0-9_]}, no two
 * underscores in a row and none at the end (the VHDL rule), at most {@value #LONGEST} characters,
 * and a reserved word of none of the languages. Lower case alone makes names that differ only in
 * case impossible, which VHDL could not tell apart.
 */
public final class HdlName {

  /**
   * The longest name allowed, in characters; leaves room for suffixes within common tool limits.
   */
  public static final int LONGEST = 64;

  /** The longest name that is made from such names, in characters; a file may be called so. */
  public static final int LONGEST_MADE = 240;

  private static final Set<String> RESERVED = readReserved();

  private HdlName() {}

  /**
   * Returns why {@code name} is not a legal name, or empty if it is one.
   *
   * @param name any text
   * @return a rule in words, fit to follow {@code "<subject>: "}
   */
  public static Optional<String> fault(String name) {
    return fault(name, LONGEST);
  }

  private static Optional<String> fault(String name, int longest) {
    Objects.requireNonNull(name, "name");
    String rule = null;
    if (name.isEmpty()) {
      rule = "a name must not be empty";
    } else if (name.length() > longest) {
      rule = "a name must have at most " + longest + " characters";
    } else if (!name.matches("[a-z][a-z0-9_]*")) {
      rule = "a name must be lower case letters, digits and underscores, first a letter";
    } else if (name.contains("__") || name.endsWith("_")) {
      rule = "a name must not have two underscores in a row or one at its end";
    } else if (isReserved(name)) {
      rule = "a name must not be a reserved word of Verilog, VHDL or Java";
    }
    return Optional.ofNullable(rule).map(text -> text + ", found " + quote(name));
  }

  /**
   * Returns {@code name} if it is legal.
   *
   * @param subject what the name is for, as an error message begins
   * @param name the name to check
   * @return {@code name}
   * @throws IllegalArgumentException if the name is not legal
   */
  public static String require(String subject, String name) {
    return require(subject, name, LONGEST);
  }

  /**
   * Returns {@code name} if it is legal but for its length, which may be {@value #LONGEST_MADE}:
   * names made from several legal names are longer than those.
   *
   * @param subject what the name is for, as an error message begins
   * @param name the name to check
   * @return {@code name}
   * @throws IllegalArgumentException if the name is not legal
   */
  public static String requireMade(String subject, String name) {
    return require(subject, name, LONGEST_MADE);
  }

  /**
   * Returns {@code name} if it is legal and a file may be called so, whatever its extension, on
   * Windows too.
   *
   * @param subject what the name is for, as an error message begins
   * @param name the name to check
   * @return {@code name}
   * @throws IllegalArgumentException if the name is not legal or that of a device of Windows
   */
  public static String requireOfFile(String subject, String name) {
    require(subject, name, LONGEST);
    if (isDevice(name)) {
      throw new IllegalArgumentException(
          subject
              + ": a name of files must not be that of a device of Windows, found "
              + quote(name));
    }
    return name;
  }

  /**
   * Tells whether Windows takes files of a name, whatever their extension, for a device ("Naming
   * Files, Paths, and Namespaces" in its documentation, section "Naming Conventions"; from memory).
   *
   * @param name any text
   * @return true for {@code con}, {@code lpt1} and the like, in any case
   */
  public static boolean isDevice(String name) {
    return name.toLowerCase(Locale.ROOT).matches("con|prn|aux|nul|(com|lpt)[0-9]");
  }

  private static String require(String subject, String name, int longest) {
    fault(name, longest)
        .ifPresent(
            rule -> {
              throw new IllegalArgumentException(subject + ": " + rule);
            });
    return name;
  }

  /**
   * Tells whether a word is reserved in one of the languages, in any case.
   *
   * @param word any text
   * @return true if it is reserved
   */
  public static boolean isReserved(String word) {
    return RESERVED.contains(word.toLowerCase(Locale.ROOT));
  }

  /**
   * Returns a text in quotes that is safe to print: one line, ASCII, at most 80 characters.
   *
   * @param text any text
   * @return the quoted text
   */
  public static String quote(String text) {
    StringBuilder out = new StringBuilder("\"");
    for (int i = 0; i < text.length() && i < 80; i++) {
      char c = text.charAt(i);
      if (c >= ' ' && c < 0x7f && c != '"' && c != '\\') {
        out.append(c);
      } else {
        out.append(String.format(Locale.ROOT, "\\u%04x", (int) c));
      }
    }
    return out.append(text.length() > 80 ? "...\"" : "\"").toString();
  }

  private static Set<String> readReserved() {
    try (InputStream in = HdlName.class.getResourceAsStream("reserved-words.txt")) {
      BufferedReader reader =
          new BufferedReader(
              new InputStreamReader(
                  Objects.requireNonNull(in, "reserved-words.txt"), StandardCharsets.US_ASCII));
      return reader
          .lines()
          .filter(line -> !line.startsWith("#"))
          .flatMap(line -> Arrays.stream(line.split(" ")))
          .collect(Collectors.toUnmodifiableSet());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

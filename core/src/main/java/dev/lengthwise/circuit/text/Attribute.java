package dev.lengthwise.circuit.text;

import dev.lengthwise.name.HdlName;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * An attribute that a user puts on emitted text, written as {@code name}, {@code name = "text"} or
 * {@code name = 12} for every language.
 *
 * @param name its name
 * @param value a quoted text or digits; empty for a name alone
 */
public record Attribute(String name, Optional<String> value) {

  private static final Pattern FORM =
      Pattern.compile("([A-Za-z_][A-Za-z0-9_]*)(?: *= *(\"[A-Za-z0-9_ .,+-]*\"|[0-9]+))?");

  /**
   * Reads an attribute; no text that is accepted can end it.
   *
   * @param subject what it is for, as an error message begins
   * @param text what the user wrote
   * @return the attribute
   * @throws IllegalArgumentException if the text is not a name, or a name and a value
   */
  public static Attribute of(String subject, String text) {
    Matcher matcher = FORM.matcher(text);
    if (!matcher.matches()) {
      throw new IllegalArgumentException(
          subject
              + ": a name, or a name and a quoted text or number, is expected, found "
              + HdlName.quote(text));
    }
    return new Attribute(matcher.group(1), Optional.ofNullable(matcher.group(2)));
  }
}

package dev.lengthwise.circuit;

import dev.lengthwise.name.HdlName;
import java.util.Objects;

/**
 * A port of a block.
 *
 * @param name a legal name
 * @param direction which way it goes
 * @param width bits, in [1, {@value Node#MOST_WIDTH}]
 * @param doc what it carries, in a few words
 * @param key what a block around this one calls it: the name that was wished for, or, if a user
 *     named it, {@link #keyOfUser}
 */
public record Port(String name, Direction direction, int width, String doc, String key) {

  private static final String USER = "user ";

  /** Which way a port goes. */
  public enum Direction {
    /** Into the block. */
    INPUT,
    /** Out of the block. */
    OUTPUT
  }

  /**
   * Checks the name and the width.
   *
   * @param name see Port
   * @param direction see Port
   * @param width see Port
   * @param doc see Port
   * @param key see Port
   * @throws IllegalArgumentException if the name is not legal or the width out of range
   */
  public Port {
    HdlName.requireMade("port", name);
    Objects.requireNonNull(direction, "direction");
    Objects.requireNonNull(doc, "doc");
    Objects.requireNonNull(key, "key");
    Node.checkWidth("port " + name, width);
  }

  /**
   * Makes a port that has the name that was wished for.
   *
   * @param name see Port
   * @param direction see Port
   * @param width see Port
   * @param doc see Port
   * @throws IllegalArgumentException if the name is not legal or the width out of range
   */
  public Port(String name, Direction direction, int width, String doc) {
    this(name, direction, width, doc, name);
  }

  /**
   * Returns the key of a port that a user named, which no legal name equals.
   *
   * @param name the name that the user gave
   * @return the key
   */
  public static String keyOfUser(String name) {
    Objects.requireNonNull(name, "name");
    return USER + name;
  }

  /**
   * Tells whether a user named the port; it keeps its name whatever ours are.
   *
   * @return true if so
   */
  public boolean isOfUser() {
    return key.startsWith(USER);
  }
}

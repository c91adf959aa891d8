package dev.lengthwise.circuit;

import java.util.Objects;

/**
 * A file of the emitted tree.
 *
 * @param path relative to the tree, with {@code /} between names
 * @param text its content, lines ended by LF; ASCII where tools read it
 */
public record OutputFile(String path, String text) {

  /**
   * Checks the path.
   *
   * @param path see OutputFile
   * @param text see OutputFile
   * @throws IllegalArgumentException if the path is not relative or leads out of the tree
   */
  public OutputFile {
    Objects.requireNonNull(text, "text");
    if (!path.matches("[A-Za-z0-9_.-]+(/[A-Za-z0-9_.-]+)*") || path.contains("..")) {
      throw new IllegalArgumentException(
          "output file: a path must be relative and lead into the tree, found " + path);
    }
  }
}

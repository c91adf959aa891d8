package dev.lengthwise.stream;

import java.util.Objects;

/**
 * A function that a file names.
 *
 * @param name its name; bytes that are not printable ASCII are shown as question marks
 * @param address the address of its first byte
 * @param size its bytes; 0 if the file does not say
 */
public record CodeSymbol(String name, long address, long size) {

  /**
   * Checks for null.
   *
   * @param name see CodeSymbol
   * @param address see CodeSymbol
   * @param size see CodeSymbol
   */
  public CodeSymbol {
    Objects.requireNonNull(name, "name");
  }
}

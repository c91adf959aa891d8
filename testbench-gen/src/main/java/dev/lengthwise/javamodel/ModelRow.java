package dev.lengthwise.javamodel;

import java.util.List;
import java.util.Objects;
import java.util.Optional;

/** What a model says of one opcode; equal rows get one letter. */
sealed interface ModelRow {

  /** No length: undefined in the length model, not handled in a lane's. */
  record None() implements ModelRow {}

  /** A lane may say anything. */
  record Anything() implements ModelRow {}

  /**
   * A length.
   *
   * @param bytes for each mode word, the bytes without what the specifier adds; 0 if none
   * @param specifier the specifier behind the opcode, if its bytes matter
   */
  record Length(List<Integer> bytes, Optional<ModelSpecifier> specifier) implements ModelRow {
    public Length {
      bytes = List.copyOf(bytes);
      Objects.requireNonNull(specifier, "specifier");
    }
  }

  /**
   * A later code unit decides.
   *
   * @param target the map that it is looked up in
   * @param skip the bytes between the two code units
   */
  record Escape(MapKey target, int skip) implements ModelRow {}

  /**
   * The byte after the opcode decides.
   *
   * @param rows the row for each of 256 bytes
   */
  record ByNextByte(List<ModelRow> rows) implements ModelRow {
    public ByNextByte {
      rows = List.copyOf(rows);
    }
  }

  /**
   * Names a map of a model.
   *
   * @param map the map's name in the description
   * @param prefixes the prefixes that a lane has looked through; 0 in the length model
   */
  record MapKey(String map, int prefixes) {}
}

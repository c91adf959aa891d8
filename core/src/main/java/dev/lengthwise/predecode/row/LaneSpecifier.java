package dev.lengthwise.predecode.row;

import dev.lengthwise.table.OperandSpecifier;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * An operand specifier as far as a lane reads it.
 *
 * <p>Immutable; equal when the specifier, the bytes read and the modes are equal.
 */
public final class LaneSpecifier {

  /** What {@link #added} says if the bytes read do not decide. */
  public static final int NOT_DECIDED = -1;

  private final OperandSpecifier specifier;
  private final int bytesRead;
  private final List<String> modeNames;
  private final byte[] added;
  private final boolean everDecided;
  private final int hash; // kept, because rows are compared often and a description is deep

  LaneSpecifier(OperandSpecifier specifier, int bytesRead, List<String> modeNames) {
    this.specifier = Objects.requireNonNull(specifier, "specifier");
    this.bytesRead = bytesRead;
    this.modeNames = List.copyOf(modeNames);
    this.hash = Objects.hash(specifier, bytesRead, modeNames);
    this.added = new byte[1 << 16 + modeNames.size()];
    int tested = tested();
    for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
      if ((modes & ~tested) == 0) {
        fill(modes);
      } else {
        int alike = index(0, 0, modes & tested);
        System.arraycopy(added, alike, added, index(0, 0, modes), 1 << 16);
      }
    }
    this.everDecided = isAnyDecided(added);
  }

  /** Returns the modes that a case of the specifier depends on; the others change nothing. */
  private int tested() {
    int tested = 0;
    for (OperandSpecifier.Case one : specifier.cases()) {
      for (String mode : one.when().required().keySet()) {
        int bit = modeNames.indexOf(mode);
        tested |= bit < 0 ? 0 : 1 << bit;
      }
    }
    return tested;
  }

  /** Fills the table for a mode word: first the truth, then what the bytes read leave of it. */
  private void fill(int modes) {
    for (int value = 0; value < 256; value++) {
      boolean readsNext = specifier.readsNext(value, modeNames, modes);
      for (int next = 0; next < 256; next++) {
        added[index(value, next, modes)] =
            next == 0 || readsNext
                ? (byte) specifier.added(value, next, modeNames, modes)
                : added[index(value, 0, modes)];
      }
      if (bytesRead == 1) {
        keepIfCommon(index(value, 0, modes), 256);
      }
    }
    if (bytesRead == 0) {
      keepIfCommon(index(0, 0, modes), 256 * 256);
    }
  }

  private void keepIfCommon(int from, int count) {
    byte common = added[from];
    for (int i = from; i < from + count; i++) {
      if (added[i] != common) {
        common = NOT_DECIDED;
      }
    }
    if (common == NOT_DECIDED) {
      Arrays.fill(added, from, from + count, common);
    }
  }

  private static int index(int specifierByte, int nextByte, int modes) {
    return modes << 16 | specifierByte << 8 | nextByte;
  }

  /**
   * Returns the full specifier.
   *
   * @return the specifier
   */
  public OperandSpecifier specifier() {
    return specifier;
  }

  /**
   * Returns how many bytes the lane reads of it.
   *
   * @return 0, 1 for the specifier byte, or 2 for the index byte as well
   */
  public int bytesRead() {
    return bytesRead;
  }

  /**
   * Returns the bytes that the specifier adds.
   *
   * @param specifierByte in [0, 0xff]
   * @param nextByte in [0, 0xff]
   * @param modes mode i is bit i
   * @return bytes, or {@link #NOT_DECIDED}
   * @throws IllegalArgumentException if a byte is out of range or there is no such mode
   */
  public int added(int specifierByte, int nextByte, int modes) {
    if ((specifierByte | nextByte) >>> 8 != 0 || modes >>> modeNames.size() != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "specifier %s: bytes must be in [0x00, 0xff] and modes among %s,"
                  + " found 0x%02x, 0x%02x and 0x%x",
              specifier.name(),
              modeNames,
              specifierByte,
              nextByte,
              modes));
    }
    return added[index(specifierByte, nextByte, modes)];
  }

  /**
   * Tells whether some bytes decide under some modes.
   *
   * @return false if the lane can handle no row that has this specifier
   */
  public boolean isEverDecided() {
    return everDecided;
  }

  private static boolean isAnyDecided(byte[] added) {
    for (byte bytes : added) {
      if (bytes != NOT_DECIDED) {
        return true;
      }
    }
    return false;
  }

  @Override
  public boolean equals(Object other) {
    return other == this
        || other instanceof LaneSpecifier that
            && hash == that.hash
            && specifier.equals(that.specifier)
            && bytesRead == that.bytesRead
            && modeNames.equals(that.modeNames);
  }

  @Override
  public int hashCode() {
    return hash;
  }

  @Override
  public String toString() {
    return specifier.name() + ", " + bytesRead + " bytes read";
  }
}

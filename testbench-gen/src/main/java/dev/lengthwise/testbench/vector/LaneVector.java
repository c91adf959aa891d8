package dev.lengthwise.testbench.vector;

import java.util.Arrays;
import java.util.HexFormat;

/**
 * One golden vector of a lane: what it sees and what it must say.
 *
 * <p>Immutable; equal when all parts are equal.
 */
public final class LaneVector {

  private final VectorKind kind;
  private final byte[] code;
  private final int modes;
  private final int length;

  LaneVector(VectorKind kind, byte[] code, int modes, int length) {
    this.kind = kind;
    this.code = code.clone();
    this.modes = modes;
    this.length = length;
  }

  /**
   * Returns what the vector is there for.
   *
   * @return the kind
   */
  public VectorKind kind() {
    return kind;
  }

  /**
   * Returns the bytes that the lane sees, its own first.
   *
   * @return {@code 1 + lookahead} bytes
   */
  public byte[] code() {
    return code.clone();
  }

  /**
   * Returns the modes at the lane's inputs.
   *
   * @return mode i is bit i
   */
  public int modes() {
    return modes;
  }

  /**
   * Returns what the lane must say.
   *
   * @return bytes; 0 for "not handled"
   */
  public int length() {
    return length;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof LaneVector that
        && kind == that.kind
        && modes == that.modes
        && length == that.length
        && Arrays.equals(code, that.code);
  }

  @Override
  public int hashCode() {
    return Arrays.hashCode(code) * 31 + modes;
  }

  @Override
  public String toString() {
    return HexFormat.of().formatHex(code) + " modes " + modes + " -> " + length;
  }
}

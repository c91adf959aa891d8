package dev.lengthwise.stream;

import java.util.Locale;
import java.util.Objects;

/** A run of code at an address. Immutable. */
public final class CodeSection {

  private final String name;
  private final long address;
  private final byte[] code;

  /** Takes an array that nobody else keeps. */
  CodeSection(String name, long address, byte[] code) {
    this.name = Objects.requireNonNull(name, "name");
    this.address = address;
    this.code = code;
    if (code.length > 0 && Long.compareUnsigned(address + (code.length - 1), address) < 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "section %s: code must end below 2^64, found %d bytes at 0x%x",
              name,
              code.length,
              address));
    }
  }

  /**
   * Returns a section.
   *
   * @param name its name
   * @param address the address of its first byte
   * @param code its bytes, copied
   * @return the section
   * @throws IllegalArgumentException if it goes on past the last address
   */
  public static CodeSection of(String name, long address, byte[] code) {
    return new CodeSection(name, address, code.clone());
  }

  /**
   * Returns the section's name.
   *
   * @return the name
   */
  public String name() {
    return name;
  }

  /**
   * Returns the address of the first byte.
   *
   * @return an unsigned address
   */
  public long address() {
    return address;
  }

  /**
   * Returns the number of bytes.
   *
   * @return at least 0
   */
  public int size() {
    return code.length;
  }

  /**
   * Returns a copy of the bytes.
   *
   * @return {@link #size()} bytes
   */
  public byte[] code() {
    return code.clone();
  }

  /** Tells whether the section has a byte at an address. */
  boolean holds(long at) {
    return Long.compareUnsigned(at - address, code.length) < 0;
  }

  /** Copies bytes from an address on, as many as there are and fit; returns how many. */
  int copy(long at, byte[] into, int offset) {
    int from = (int) (at - address);
    int count = Math.min(code.length - from, into.length - offset);
    System.arraycopy(code, from, into, offset, count);
    return count;
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%s, %d bytes at 0x%x", name, code.length, address);
  }
}

package dev.lengthwise.table;

/** The unit that opcodes and prefixes are coded in, and the order of its bytes in memory. */
public enum CodeUnit {
  /** One byte. */
  BYTE(1),
  /** Two bytes, the low one first. */
  WORD_LITTLE_ENDIAN(2),
  /** Two bytes, the high one first. */
  WORD_BIG_ENDIAN(2);

  private final int bytes;

  CodeUnit(int bytes) {
    this.bytes = bytes;
  }

  /**
   * Returns the size of a unit.
   *
   * @return 1 or 2 bytes
   */
  public int bytes() {
    return bytes;
  }

  /**
   * Returns the number of different codes.
   *
   * @return 256 or 65536
   */
  public int codes() {
    return 1 << (8 * bytes);
  }

  /**
   * Reads a unit.
   *
   * @param memory the bytes
   * @param offset where the unit starts; {@code bytes()} bytes are read
   * @return the code, in [0, {@link #codes()})
   * @throws ArrayIndexOutOfBoundsException if the unit is not wholly inside {@code memory}
   */
  public int read(byte[] memory, int offset) {
    int first = memory[offset] & 0xff;
    return switch (this) {
      case BYTE -> first;
      case WORD_LITTLE_ENDIAN -> first | (memory[offset + 1] & 0xff) << 8;
      case WORD_BIG_ENDIAN -> first << 8 | memory[offset + 1] & 0xff;
    };
  }

  /**
   * Writes a unit.
   *
   * @param code the code, in [0, {@link #codes()}); higher bits are ignored
   * @param memory where to write
   * @param offset where the unit starts; {@code bytes()} bytes are written
   * @throws ArrayIndexOutOfBoundsException if the unit is not wholly inside {@code memory}
   */
  public void write(int code, byte[] memory, int offset) {
    switch (this) {
      case BYTE -> memory[offset] = (byte) code;
      case WORD_LITTLE_ENDIAN -> {
        memory[offset] = (byte) code;
        memory[offset + 1] = (byte) (code >> 8);
      }
      case WORD_BIG_ENDIAN -> {
        memory[offset] = (byte) (code >> 8);
        memory[offset + 1] = (byte) code;
      }
    }
  }
}

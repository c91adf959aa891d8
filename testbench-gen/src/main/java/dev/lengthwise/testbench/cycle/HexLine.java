package dev.lengthwise.testbench.cycle;

/** Hexadecimal digits of fields of whole bytes, put one behind another without allocation. */
public final class HexLine implements CharSequence {

  private final char[] digits;
  private int length;

  public HexLine(int most) {
    this.digits = new char[most];
  }

  public void clear() {
    length = 0;
  }

  /** Adds a field of so many bits, made up to whole bytes. */
  public void number(long value, int bits) {
    for (int shift = (bits + 7) / 8 * 8 - 4; shift >= 0; shift -= 4) {
      digits[length++] = Character.forDigit((int) (value >> shift) & 15, 16);
    }
  }

  /** Adds bytes, the first one lowest; those past the end of the memory are 0. */
  public void bytes(byte[] memory, int offset, int count) {
    for (int i = offset + count - 1; i >= offset; i--) {
      number(i < memory.length ? memory[i] : 0, 8);
    }
  }

  /**
   * Returns some bits, the lowest in bit 0 of the first word; {@code low} is that of a byte.
   *
   * @param low the lowest bit
   * @param width bits
   * @return the bits
   */
  public long[] bits(int low, int width) {
    long[] words = new long[(width + 63) / 64];
    for (int bit = 0; bit < width; bit += 4) {
      long digit = Character.digit(digits[length - 1 - (low + bit) / 4], 16);
      words[bit / 64] |= digit << bit % 64;
    }
    return words;
  }

  @Override
  public int length() {
    return length;
  }

  @Override
  public char charAt(int index) {
    return digits[index];
  }

  @Override
  public CharSequence subSequence(int start, int end) {
    return new String(digits, start, end - start);
  }

  @Override
  public String toString() {
    return new String(digits, 0, length);
  }
}

package dev.lengthwise.circuit;

import java.math.BigInteger;
import java.util.Arrays;
import java.util.Locale;

/**
 * The words of a lookup table.
 *
 * <p>Immutable; equal when widths and words are equal.
 */
public final class Contents {

  /** The most address bits. */
  public static final int MOST_ADDRESS_BITS = 16;

  private final int addressBits;
  private final int dataBits;
  private final long[] words;

  private Contents(int addressBits, int dataBits, long[] words) {
    this.addressBits = addressBits;
    this.dataBits = dataBits;
    this.words = words;
  }

  /**
   * Returns the table of given words.
   *
   * @param dataBits the width of a word, in [1, 64]
   * @param words 2^n words, n in [0, {@value #MOST_ADDRESS_BITS}]; the word at address 0 first
   * @return the table
   * @throws IllegalArgumentException if the number of words is no such power, the width is out of
   *     range, or a word does not fit
   */
  public static Contents of(int dataBits, long... words) {
    if (dataBits < 1 || dataBits > 64) {
      throw new IllegalArgumentException(
          "lookup table: the data width must be in [1, 64], found " + dataBits);
    }
    if (Integer.bitCount(words.length) != 1 || words.length > 1 << MOST_ADDRESS_BITS) {
      throw new IllegalArgumentException(
          "lookup table: the number of words must be a power of two up to "
              + (1 << MOST_ADDRESS_BITS)
              + ", found "
              + words.length);
    }
    for (int address = 0; address < words.length; address++) {
      if (dataBits < 64 && words[address] >>> dataBits != 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "lookup table: a word must fit in %d bits, found 0x%x at address 0x%x",
                dataBits,
                words[address],
                address));
      }
    }
    return new Contents(Integer.numberOfTrailingZeros(words.length), dataBits, words.clone());
  }

  /**
   * Returns the width of the address.
   *
   * @return bits, in [0, {@value #MOST_ADDRESS_BITS}]
   */
  public int addressBits() {
    return addressBits;
  }

  /**
   * Returns the width of a word.
   *
   * @return bits, in [1, 64]
   */
  public int dataBits() {
    return dataBits;
  }

  /**
   * Returns a word.
   *
   * @param address in [0, 2^addressBits)
   * @return the word in the low bits
   */
  public long word(int address) {
    return words[address];
  }

  /**
   * Returns a table of one-bit words as one number, for a LUT with at least as many inputs.
   *
   * @param inputs the LUT's inputs, at least {@link #addressBits()}; the table ignores further ones
   * @return bit i is the output while the inputs count i
   */
  public BigInteger truthTable(int inputs) {
    BigInteger bits = BigInteger.ZERO;
    for (int i = 0; i < 1 << inputs; i++) {
      if (words[i & (words.length - 1)] != 0) {
        bits = bits.setBit(i);
      }
    }
    return bits;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Contents that
        && dataBits == that.dataBits
        && Arrays.equals(words, that.words);
  }

  @Override
  public int hashCode() {
    return 31 * dataBits + Arrays.hashCode(words);
  }

  @Override
  public String toString() {
    return "table of " + words.length + " x " + dataBits + " bits";
  }
}

package dev.lengthwise.vhdl;

import java.math.BigInteger;
import java.util.Locale;

/** Writes constants and subtypes. */
final class Literals {

  /** The longest literal, in bits; longer ones are put together so that lines can wrap. */
  static final int LONGEST = 64;

  private Literals() {}

  /** Returns the subtype of a signal: one bit is a scalar. */
  static String subtype(int width) {
    return width == 1 ? "std_logic" : "std_logic_vector(" + (width - 1) + " downto 0)";
  }

  /** Returns the index of a bit, or the range of several. */
  static String range(int low, int width) {
    return width == 1 ? "(" + low + ")" : "(" + (low + width - 1) + " downto " + low + ")";
  }

  /** Returns a literal of the subtype of that width. */
  static String constant(BigInteger value, int width) {
    return width == 1 ? bit(value.signum()) : vector(value, width);
  }

  /** Returns a literal of the subtype of that width, of at most 64 bits. */
  static String constant(long value, int width) {
    return constant(new BigInteger(Long.toUnsignedString(value)), width);
  }

  /** Returns a bit. */
  static String bit(int value) {
    return value == 0 ? "'0'" : "'1'";
  }

  /** Returns a vector literal; hexadecimal where the 1993 edition can say the width so. */
  static String vector(BigInteger value, int width) {
    if (width > LONGEST) {
      int head = (width - 1) / LONGEST * LONGEST;
      BigInteger low = value.mod(BigInteger.ONE.shiftLeft(head));
      return vector(value.shiftRight(head), width - head) + " & " + vector(low, head);
    }
    if (width % 4 == 0) {
      return "x\"" + padded(value.toString(16), width / 4) + "\"";
    }
    return "\"" + padded(value.toString(2), width) + "\"";
  }

  /** Returns a vector literal in digits 0 and 1. */
  static String binary(long value, int width) {
    return "\"" + padded(Long.toBinaryString(value), width) + "\"";
  }

  /** Returns an address as a based literal. */
  static String index(int address, int addressBits) {
    return "16#" + padded(Integer.toHexString(address), (addressBits + 3) / 4) + "#";
  }

  /** Returns the value for unknown bits. */
  static String unknown(int width) {
    return width == 1 ? "'X'" : "(others => 'X')";
  }

  private static String padded(String digits, int length) {
    return "0".repeat(Math.max(0, length - digits.length())) + digits.toLowerCase(Locale.ROOT);
  }
}

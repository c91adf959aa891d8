package dev.lengthwise.examples.suite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.Arrays;
import java.util.stream.IntStream;

/** Builds networks of gates of two and three inputs. */
final class Gates {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable OR = TruthTable.parse("0111");
  private static final TruthTable XOR = TruthTable.parse("0110");
  private static final TruthTable NOT = TruthTable.parse("10");
  private static final TruthTable MAJORITY = TruthTable.parse("00010111");

  /** Input 0 selects input 2 over input 1. */
  private static final TruthTable MUX = TruthTable.parse("00100111");

  private final LutNetworkBuilder builder;

  Gates(int inputs) {
    builder = LutNetwork.builder(IntStream.range(0, inputs).mapToObj(i -> "x" + i).toList());
  }

  /** Returns inputs. */
  static int[] inputs(int from, int count) {
    return IntStream.range(from, from + count).toArray();
  }

  int and(int a, int b) {
    return builder.lut(AND, a, b);
  }

  int or(int a, int b) {
    return builder.lut(OR, a, b);
  }

  int xor(int a, int b) {
    return builder.lut(XOR, a, b);
  }

  int not(int a) {
    return builder.lut(NOT, a);
  }

  int majority(int a, int b, int c) {
    return builder.lut(MAJORITY, a, b, c);
  }

  /** Returns {@code select ? one : zero}. */
  int mux(int select, int zero, int one) {
    return builder.lut(MUX, select, zero, one);
  }

  /** Returns the sum and, one bit more, the carry. */
  int[] add(int[] a, int[] b, int carryIn) {
    int[] sum = new int[a.length + 1];
    int carry = carryIn;
    for (int i = 0; i < a.length; i++) {
      sum[i] = xor(xor(a[i], b[i]), carry);
      carry = majority(a[i], b[i], carry);
    }
    sum[a.length] = carry;
    return sum;
  }

  /** Returns {@code a * b}, row by row. */
  int[] multiply(int[] a, int[] b) {
    int[] product = new int[a.length + b.length];
    Arrays.fill(product, LutNetwork.ZERO);
    for (int row = 0; row < b.length; row++) {
      int at = row;
      int[] partial = Arrays.stream(a).map(bit -> and(bit, b[at])).toArray();
      int[] sum = add(Arrays.copyOfRange(product, row, row + a.length), partial, LutNetwork.ZERO);
      System.arraycopy(sum, 0, product, row, sum.length);
    }
    return product;
  }

  /** Returns how many signals are 1, in so many bits as that takes, by full adders. */
  int[] count(int... signals) {
    int[] total = new int[Integer.SIZE - Integer.numberOfLeadingZeros(signals.length)];
    Arrays.fill(total, LutNetwork.ZERO);
    for (int signal : signals) {
      int carry = signal;
      for (int i = 0; i < total.length; i++) {
        int before = total[i];
        total[i] = xor(before, carry);
        carry = and(before, carry);
      }
    }
    return total;
  }

  /** Returns whether a is less than b, from the lowest bit on. */
  int less(int[] a, int[] b) {
    int less = LutNetwork.ZERO;
    for (int i = 0; i < a.length; i++) {
      less = mux(xor(a[i], b[i]), less, b[i]);
    }
    return less;
  }

  int equal(int[] a, int[] b) {
    int equal = LutNetwork.ONE;
    for (int i = 0; i < a.length; i++) {
      equal = and(equal, not(xor(a[i], b[i])));
    }
    return equal;
  }

  /** Returns a number as constants. */
  static int[] constant(int value, int bits) {
    return IntStream.range(0, bits)
        .map(i -> (value >> i & 1) != 0 ? LutNetwork.ONE : LutNetwork.ZERO)
        .toArray();
  }

  LutNetwork build(int... outputs) {
    for (int i = 0; i < outputs.length; i++) {
      builder.output("y" + i, outputs[i]);
    }
    return builder.build();
  }
}

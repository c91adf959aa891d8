package dev.lengthwise.circuit.simulate;

/**
 * The combinational logic of a flattened circuit, as instructions over 64-bit words.
 *
 * <p>A signal of w bits owns ceil(w / 64) words, the least significant first; the bits above w in
 * its last word are always 0. An instruction is an opcode, its destination and what it needs; each
 * constant in the comments below is a place in the code relative to the opcode. Instructions come
 * in an order in which every operand is computed before it is read.
 */
final class Program {

  /** 1 destination, 2 source, 3 right shift, 4 mask. */
  static final int SLICE = 0;

  /** 1 destination, 2 lower source, 3 right shift in [1, 63], 4 mask; reads the next word too. */
  static final int SLICE_ACROSS = 1;

  /** 1 destination, 2 count, then count pairs of source and left shift (negative: right shift). */
  static final int GATHER = 2;

  /** 1 destination, 2 source, 3 mask. */
  static final int NOT = 3;

  /** 1 destination, 2 count, then the sources. */
  static final int AND = 4;

  /** As AND. */
  static final int OR = 5;

  /** As AND. */
  static final int XOR = 6;

  /** 1 destination, 2 source, 3 its words, 4 mask of the last word. */
  static final int ALL = 7;

  /** 1 destination, 2 source, 3 its words. */
  static final int ANY = 8;

  /** As ANY. */
  static final int PARITY = 9;

  /** 1 destination, 2 words, 3 left, 4 its words, 5 right, 6 its words, 7 mask. */
  static final int ADD = 10;

  /** As ADD. */
  static final int SUBTRACT = 11;

  /** 1 destination, 2 left, 3 right, 4 words. */
  static final int EQUAL = 12;

  /** As EQUAL. */
  static final int LESS = 13;

  /** 1 destination, 2 words, 3 index, 4 its words, 5 count, then the sources. */
  static final int SELECT = 14;

  /** 1 destination, 2 address, 3 table. */
  static final int LOOKUP = 15;

  /** 1 destination, 2 words, 3 address, 4 memory. */
  static final int READ = 16;

  private final int[] code;
  private final long[][] tables;
  private final long[][] memories;

  Program(int[] code, long[][] tables, long[][] memories) {
    this.code = code;
    this.tables = tables;
    this.memories = memories;
  }

  /** Computes every combinational signal from inputs, registers and memories. */
  void run(long[] w) {
    int at = 0;
    while (at < code.length) {
      at +=
          switch (code[at]) {
            case SLICE, SLICE_ACROSS, GATHER, NOT -> rearrange(w, at);
            case AND, OR, XOR -> bitwise(w, at);
            case ALL, ANY, PARITY -> reduce(w, at);
            case ADD, SUBTRACT -> sum(w, at);
            case EQUAL, LESS -> compare(w, at);
            case SELECT -> select(w, at);
            case LOOKUP -> {
              w[code[at + 1]] = tables[code[at + 3]][(int) w[code[at + 2]]];
              yield 4;
            }
            case READ -> {
              int words = code[at + 2];
              int from = (int) w[code[at + 3]] * words;
              System.arraycopy(memories[code[at + 4]], from, w, code[at + 1], words);
              yield 5;
            }
            default -> throw new AssertionError(code[at]);
          };
    }
  }

  private int rearrange(long[] w, int at) {
    int source = code[at + 2];
    int shift = code[at + 3];
    return switch (code[at]) {
      case SLICE -> {
        w[code[at + 1]] = w[source] >>> shift & w[code[at + 4]];
        yield 5;
      }
      case SLICE_ACROSS -> {
        // Java takes shift distances modulo 64: left by -s is left by 64 - s.
        w[code[at + 1]] = (w[source] >>> shift | w[source + 1] << -shift) & w[code[at + 4]];
        yield 5;
      }
      case NOT -> {
        w[code[at + 1]] = ~w[source] & w[code[at + 3]];
        yield 4;
      }
      default -> gather(w, at);
    };
  }

  private int gather(long[] w, int at) {
    int end = at + 3 + 2 * code[at + 2];
    long value = 0;
    for (int i = at + 3; i < end; i += 2) {
      int shift = code[i + 1];
      value |= shift >= 0 ? w[code[i]] << shift : w[code[i]] >>> -shift;
    }
    w[code[at + 1]] = value;
    return end - at;
  }

  private int bitwise(long[] w, int at) {
    int end = at + 3 + code[at + 2];
    long value = w[code[at + 3]];
    for (int i = at + 4; i < end; i++) {
      long operand = w[code[i]];
      value =
          switch (code[at]) {
            case AND -> value & operand;
            case OR -> value | operand;
            default -> value ^ operand;
          };
    }
    w[code[at + 1]] = value;
    return end - at;
  }

  private int reduce(long[] w, int at) {
    int last = code[at + 2] + code[at + 3] - 1;
    boolean all = w[last] == (code[at] == ALL ? w[code[at + 4]] : 0);
    long any = w[last];
    long odd = w[last];
    for (int i = code[at + 2]; i < last; i++) {
      all &= w[i] == -1L;
      any |= w[i];
      odd ^= w[i];
    }
    w[code[at + 1]] =
        switch (code[at]) {
          case ALL -> all ? 1 : 0;
          case ANY -> any != 0 ? 1 : 0;
          default -> Long.bitCount(odd) & 1;
        };
    return code[at] == ALL ? 5 : 4;
  }

  private int sum(long[] w, int at) {
    // left - right = left + ~right + 1, so one carry chain serves both.
    long invert = code[at] == SUBTRACT ? -1 : 0;
    long carry = -invert;
    int words = code[at + 2];
    for (int i = 0; i < words; i++) {
      long left = i < code[at + 4] ? w[code[at + 3] + i] : 0;
      long right = (i < code[at + 6] ? w[code[at + 5] + i] : 0) ^ invert;
      long result = left + right + carry;
      carry = (left & right | (left | right) & ~result) >>> 63;
      w[code[at + 1] + i] = result;
    }
    w[code[at + 1] + words - 1] &= w[code[at + 7]];
    return 8;
  }

  private int compare(long[] w, int at) {
    int i = code[at + 4] - 1;
    int left = code[at + 2];
    int right = code[at + 3];
    while (i > 0 && w[left + i] == w[right + i]) {
      i--;
    }
    boolean holds =
        code[at] == EQUAL
            ? w[left + i] == w[right + i]
            : Long.compareUnsigned(w[left + i], w[right + i]) < 0;
    w[code[at + 1]] = holds ? 1 : 0;
    return 5;
  }

  private int select(long[] w, int at) {
    int last = code[at + 5] - 1;
    long index = w[code[at + 3]];
    boolean past = Long.compareUnsigned(index, last) > 0;
    for (int i = 1; i < code[at + 4]; i++) {
      past |= w[code[at + 3] + i] != 0;
    }
    int source = code[at + 6 + (past ? last : (int) index)];
    int target = code[at + 1];
    for (int i = 0; i < code[at + 2]; i++) {
      w[target + i] = w[source + i];
    }
    return 6 + last + 1;
  }
}

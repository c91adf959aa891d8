package dev.lengthwise.testbench.vector;

import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;

/**
 * The golden vectors of a lane.
 *
 * <p>They hold every opcode of every map under every mode word, left-out rows among them; every
 * byte after an opcode whose row depends on it; every byte of every operand specifier under every
 * mode word, behind every kind of row that has it, and every index byte behind one; every prefix,
 * every pair of prefixes, and runs one longer than the lane looks through; and seeded random bytes.
 * Bytes that do not matter are random. Where the lane may say anything there is no vector.
 */
public final class LaneVectors {

  /** Random vectors if the user asks for no other number. */
  public static final int RANDOM = 20_000;

  private final Predecoder lane;
  private final List<Vector> vectors;

  private LaneVectors(Predecoder lane, List<Vector> vectors) {
    this.lane = lane;
    this.vectors = Collections.unmodifiableList(vectors);
  }

  /**
   * Makes the vectors of a lane.
   *
   * @param lane the lane
   * @param random the number of random vectors, at least 0
   * @param seed the seed of all random choices
   * @return the vectors
   * @throws IllegalArgumentException if {@code random} is negative
   */
  public static LaneVectors of(Predecoder lane, int random, long seed) {
    if (random < 0) {
      throw new IllegalArgumentException(
          "vectors of " + lane.name() + ": random vectors must not be negative, found " + random);
    }
    return new LaneVectors(lane, new VectorPlan(lane, LaneModel.of(lane), seed).make(random));
  }

  /**
   * Returns a share of the vectors, for simulators that take too long for all.
   *
   * @param step keeps every step-th vector, at least 1; an odd number keeps all bits in play
   * @return fewer vectors, in the same order
   * @throws IllegalArgumentException if {@code step} is less than 1
   */
  public LaneVectors every(int step) {
    if (step < 1) {
      throw new IllegalArgumentException(
          "vectors of " + lane.name() + ": the step must be at least 1, found " + step);
    }
    List<Vector> kept = new ArrayList<>();
    for (int i = 0; i < vectors.size(); i += step) {
      kept.add(vectors.get(i));
    }
    return new LaneVectors(lane, kept);
  }

  /**
   * Returns the lane.
   *
   * @return the lane
   */
  public Predecoder lane() {
    return lane;
  }

  /**
   * Returns the vectors.
   *
   * @return in a fixed order, kind by kind
   */
  public List<Vector> vectors() {
    return vectors;
  }

  /**
   * Counts the vectors of each kind.
   *
   * @return every kind to its number of vectors, in the order of the kinds
   */
  public Map<VectorKind, Integer> counts() {
    Map<VectorKind, Integer> counts = new EnumMap<>(VectorKind.class);
    for (VectorKind kind : VectorKind.values()) {
      counts.put(kind, 0);
    }
    vectors.forEach(vector -> counts.merge(vector.kind(), 1, Integer::sum));
    return counts;
  }

  /**
   * Returns the vectors as text for {@code $readmemh}: a line for each, a word in hex whose fields
   * are, from the highest byte down, the kind, the length, the modes, and the code with the lane's
   * own byte lowest.
   *
   * @return the lines, each ended by LF
   */
  public String hex() {
    StringBuilder text = new StringBuilder();
    for (Vector vector : vectors) {
      appendByte(text, List.of(VectorKind.values()).indexOf(vector.kind()));
      appendByte(text, vector.length());
      appendByte(text, vector.modes());
      byte[] code = vector.code();
      for (int i = code.length - 1; i >= 0; i--) {
        appendByte(text, code[i]);
      }
      text.append('\n');
    }
    return text.toString();
  }

  /**
   * Returns the width of a word of {@link #hex()}.
   *
   * @return bits
   */
  public int wordBits() {
    return 8 * (3 + 1 + lane.lookahead());
  }

  private static void appendByte(StringBuilder text, int value) {
    text.append(Character.forDigit(value >> 4 & 15, 16)).append(Character.forDigit(value & 15, 16));
  }

  /** Collects vectors, leaving out those where the lane may say anything. */
  static final class Collector {

    private final LaneModel model;
    private final List<Vector> vectors = new ArrayList<>();

    Collector(LaneModel model) {
      this.model = model;
    }

    void add(VectorKind kind, byte[] code, int modes) {
      int length = model.lengthAt(modes, code, 0);
      if (length != LaneModel.ANYTHING) {
        vectors.add(new Vector(kind, code, modes, length));
      }
    }

    List<Vector> vectors() {
      return vectors;
    }
  }

  /**
   * One golden vector of a lane: what it sees and what it must say.
   *
   * <p>Immutable; equal when all parts are equal.
   */
  public static final class Vector {

    private final VectorKind kind;
    private final byte[] code;
    private final int modes;
    private final int length;

    Vector(VectorKind kind, byte[] code, int modes, int length) {
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
      return other instanceof Vector that
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
}

package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.diagram.DecisionDiagrams;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.NetworkWords;
import dev.lengthwise.logic.words.PointWords;
import dev.lengthwise.work.Remembered;
import dev.lengthwise.work.Work;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * Compares a lane's network with its function at every point of the bits that either reads: one
 * after the other, 64 points at a time, or all at once by decision diagrams. The function is
 * computed from the rows, not from the codes of the mapping.
 */
public final class LaneProof {

  /** The most bits read for which the points are compared one after the other. */
  public static final int MOST_EXHAUSTIVE_INPUTS = 24;

  private static final String EXHAUSTIVE = "exhaustive";
  private static final String DIAGRAMS = "decision diagrams";

  /** Styles that realize one lane in several designs, as rows do, ask the same of each. */
  private static final Remembered<Question, Outcome> OUTCOMES = new Remembered<>(32);

  private final LaneFunction shape;
  private final LutNetwork network;

  private record Question(LaneFunction shape, LutNetwork network) {}

  private LaneProof(LaneFunction shape, LutNetwork network) {
    this.shape = shape;
    this.network = network;
  }

  /**
   * What a comparison found.
   *
   * @param method how the points were compared: {@code exhaustive} or {@code decision diagrams}
   * @param points the points of the bits read that were compared and matter; after a difference one
   *     by one, those up to it
   * @param difference a difference in words, if there is one
   */
  public record Outcome(String method, BigInteger points, Optional<String> difference) {

    /**
     * Tells whether the network is the function.
     *
     * @return true if no point differs
     */
    public boolean proved() {
      return difference.isEmpty();
    }
  }

  /**
   * Compares at every point: up to {@value #MOST_EXHAUSTIVE_INPUTS} bits read one after the other,
   * beyond by decision diagrams.
   *
   * @param shape the function
   * @param network a network with the inputs and outputs that {@link LaneMapping} states
   * @return what was found
   * @throws IllegalArgumentException if the network has other inputs or outputs
   */
  public static Outcome run(LaneFunction shape, LutNetwork network) {
    int inputs = 8 * shape.bytes() + shape.modes().size();
    if (network.inputNames().size() != inputs || network.outputs().size() != shape.lengthBits()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lane proof: the network must have %d inputs and %d outputs, found %d and %d",
              inputs,
              shape.lengthBits(),
              network.inputNames().size(),
              network.outputs().size()));
    }
    LaneProof proof = new LaneProof(shape, network);
    return OUTCOMES.answer(new Question(shape, network), proof::compare);
  }

  private Outcome compare() {
    int[] read = inputs();
    return read.length <= MOST_EXHAUSTIVE_INPUTS ? exhaustive(read) : diagrams(read);
  }

  /** Returns the inputs that matter to the function or the network. */
  private int[] inputs() {
    int bytes = shape.bytes();
    boolean[] used = new boolean[8 * bytes + shape.modes().size()];
    for (LutNetwork.Lut lut : network.luts()) {
      for (int signal : lut.fanIns()) {
        if (signal < used.length) {
          used[signal] = true;
        }
      }
    }
    List<Integer> list = new ArrayList<>();
    for (int i = 0; i < used.length; i++) {
      if (used[i] || shape.reads(i)) {
        list.add(i);
      }
    }
    return list.stream().mapToInt(Integer::intValue).toArray();
  }

  /** Compares by decision diagrams, whatever the number of inputs. */
  static Outcome byDiagrams(LaneFunction shape, LutNetwork network) {
    LaneProof proof = new LaneProof(shape, network);
    return proof.diagrams(proof.inputs());
  }

  private Outcome diagrams(int[] inputs) {
    LaneDiagram lane = new LaneDiagram(shape);
    DecisionDiagrams diagrams = lane.diagrams();
    int care = lane.care();
    // Points are counted over the bits read; the others double the count of the diagram.
    BigInteger points =
        diagrams.points(care).shiftRight(network.inputNames().size() - inputs.length);
    int[] outputs = lane.outputs(network);
    for (int b = 0; b < outputs.length; b++) {
      int wrong = diagrams.and(care, diagrams.differ(outputs[b], lane.bit(b)));
      if (wrong != 0) {
        boolean[] point = diagrams.firstPoint(wrong);
        long[] in = new long[network.inputNames().size()];
        for (int i = 0; i < in.length; i++) {
          in[i] = point[lane.variableOf(i)] ? 1 : 0;
        }
        return new Outcome(DIAGRAMS, points, Optional.of(describe(inputs, in, b, 0)));
      }
    }
    return new Outcome(DIAGRAMS, points, Optional.empty());
  }

  private Outcome exhaustive(int[] inputs) {
    int count = inputs.length;
    long words = count <= 6 ? 1 : 1L << (count - 6);
    int bits = shape.lengthBits();
    long points = 0;
    long[] in = new long[network.inputNames().size()];
    long[] wanted = new long[bits];
    LaneWords lane = new LaneWords(shape, inputs);
    NetworkWords luts = new NetworkWords(network);
    for (long word = 0; word < words; word++) {
      Work.check();
      for (int i = 0; i < count; i++) {
        in[inputs[i]] = PointWords.variable(i, word);
      }
      long care = lane.at(word, wanted);
      points += Long.bitCount(care);
      long[] out = luts.evaluate(in);
      for (int b = 0; b < bits; b++) {
        long wrong = (out[b] ^ wanted[b]) & care;
        if (wrong != 0) {
          return new Outcome(
              EXHAUSTIVE,
              BigInteger.valueOf(points),
              Optional.of(describe(inputs, in, b, Long.numberOfTrailingZeros(wrong))));
        }
      }
    }
    return new Outcome(EXHAUSTIVE, BigInteger.valueOf(points), Optional.empty());
  }

  /** Fills the window with one of 64 points and returns its mode word. */
  private int point(int[] inputs, long[] in, int p, int[] window) {
    Arrays.fill(window, 0);
    int modes = 0;
    int modeInput = 8 * window.length;
    for (int input : inputs) {
      int value = (int) (in[input] >>> p & 1);
      if (input < modeInput) {
        window[input >> 3] |= value << (input & 7);
      } else {
        modes |= value << (input - modeInput);
      }
    }
    return modes;
  }

  private String describe(int[] inputs, long[] in, int bit, int p) {
    int[] window = new int[shape.bytes()];
    int modes = point(inputs, in, p, window);
    StringBuilder bytes = new StringBuilder();
    for (int value : window) {
      bytes.append(String.format(Locale.ROOT, "%02x ", value));
    }
    return String.format(Locale.ROOT, "length bit %d at bytes %sand modes 0x%x", bit, bytes, modes);
  }
}

package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.diagram.DecisionDiagrams;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntUnaryOperator;
import java.util.stream.IntStream;

/**
 * A lane's function and networks of it as decision diagrams.
 *
 * <p>The modes are decided first, then the bytes in their order: what a byte's code asks depends on
 * later bytes only, so the function's diagram is built from its leaves without any operation.
 */
final class LaneDiagram {

  /** The terminal of points where the lane may say anything. */
  private static final int ANYTHING = DecisionDiagrams.TERMINALS - 1;

  private final LaneFunction shape;
  private final DecisionDiagrams diagrams;
  private final int length;
  private final Map<Integer, Integer> maps = new HashMap<>();
  private final Map<List<Integer>, Integer> specifiers = new HashMap<>();
  private int modeWord;

  LaneDiagram(LaneFunction shape) {
    this.shape = shape;
    this.diagrams = new DecisionDiagrams(8 * shape.bytes() + shape.modes().size());
    this.length = modes(shape.modes().size() - 1, 0);
  }

  DecisionDiagrams diagrams() {
    return diagrams;
  }

  /** Returns the variable of an input that is numbered as a {@link LaneMapping} does. */
  int variableOf(int input) {
    int bits = 8 * shape.bytes();
    return input < bits
        ? shape.modes().size() + (input & ~7) + 7 - (input & 7)
        : shape.modes().size() - 1 - (input - bits);
  }

  /** Returns where the lane must say something. */
  int care() {
    return diagrams.map(length, terminal -> terminal == ANYTHING ? 0 : 1);
  }

  /** Returns a bit of the length; it is 0 where the lane may say anything. */
  int bit(int bit) {
    return diagrams.map(length, terminal -> terminal == ANYTHING ? 0 : terminal >> bit & 1);
  }

  /** Returns the inputs that every network of the lane reads for a bit of the length. */
  int[] reads(int bit) {
    int care = care();
    int wanted = bit(bit);
    return IntStream.range(0, 8 * shape.bytes() + shape.modes().size())
        .filter(input -> matters(care, wanted, variableOf(input)))
        .toArray();
  }

  /** Tells whether there are two points that matter and differ in a variable and the value. */
  private boolean matters(int care, int wanted, int variable) {
    int both =
        diagrams.and(diagrams.with(care, variable, false), diagrams.with(care, variable, true));
    int differ =
        diagrams.differ(
            diagrams.with(wanted, variable, false), diagrams.with(wanted, variable, true));
    return diagrams.and(both, differ) != 0;
  }

  /** Returns the signals of a network of the lane. */
  int[] signals(LutNetwork network) {
    int inputs = network.inputNames().size();
    int[] signals = new int[inputs + network.luts().size()];
    for (int i = 0; i < inputs; i++) {
      signals[i] = diagrams.variable(variableOf(i));
    }
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      signals[inputs + i] =
          diagrams.lookUp(
              lut.table(), lut.fanIns().stream().mapToInt(signal -> signals[signal]).toArray());
    }
    return signals;
  }

  /** Returns the outputs of a network of the lane. */
  int[] outputs(LutNetwork network) {
    int[] signals = signals(network);
    return network.outputs().stream()
        .mapToInt(
            o ->
                o.signal() == LutNetwork.ZERO
                    ? 0
                    : o.signal() == LutNetwork.ONE ? 1 : signals[o.signal()])
        .toArray();
  }

  private int modes(int mode, int word) {
    if (mode < 0) {
      maps.clear();
      specifiers.clear();
      modeWord = word;
      return map(0);
    }
    int variable = variableOf(8 * shape.bytes() + mode);
    int zero = modes(mode - 1, word);
    return diagrams.node(variable, zero, modes(mode - 1, word | 1 << mode));
  }

  private int map(int index) {
    Integer known = maps.get(index);
    if (known == null) {
      LaneFunction.CodeMap map = shape.maps().get(index);
      known = ofByte(map.offset(), code -> outcome(map, code));
      maps.put(index, known);
    }
    return known;
  }

  private int outcome(LaneFunction.CodeMap map, int code) {
    LaneFunction.Outcome outcome = map.outcomes().get(code);
    if (outcome instanceof LaneFunction.Escape escape) {
      return map(escape.map());
    }
    if (!(outcome instanceof LaneFunction.Bytes row)) {
      return ANYTHING;
    }
    int base = row.byModes().get(modeWord);
    if (row.specifier() < 0 || base == 0) {
      return shape.sum(base, 0);
    }
    int at = map.specifierOffset();
    if (at == map.offset()) {
      return specified(row.specifier(), base, code, at + 1);
    }
    List<Integer> key = List.of(row.specifier(), base, at);
    Integer known = specifiers.get(key);
    if (known == null) {
      known = ofByte(at, value -> specified(row.specifier(), base, value, at + 1));
      specifiers.put(key, known);
    }
    return known;
  }

  private int specified(int specifier, int base, int value, int nextByte) {
    int first = shape.added(specifier, value, 0, modeWord);
    boolean readsNext = false;
    for (int next = 1; next < 256 && !readsNext; next++) {
      readsNext = shape.added(specifier, value, next, modeWord) != first;
    }
    return readsNext
        ? ofByte(nextByte, next -> shape.sum(base, shape.added(specifier, value, next, modeWord)))
        : shape.sum(base, first);
  }

  /** Returns the diagram of a function of a byte, whose values read later bytes only. */
  private int ofByte(int offset, IntUnaryOperator values) {
    int[] level = new int[256];
    for (int code = 0; code < 256; code++) {
      level[code] = values.applyAsInt(code);
    }
    for (int bit = 0; bit < 8; bit++) {
      int variable = variableOf(8 * offset + bit);
      for (int i = 0; i < 128 >> bit; i++) {
        level[i] = diagrams.node(variable, level[2 * i], level[2 * i + 1]);
      }
    }
    return level[0];
  }
}

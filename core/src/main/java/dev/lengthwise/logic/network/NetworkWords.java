package dev.lengthwise.logic.network;

import dev.lengthwise.logic.words.PointWords;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * A network made ready for many points: each LUT as the multiplexers that its table needs, equal
 * ones once. Making it takes as long as some hundred words by {@link LutNetwork#evaluate}, and a
 * word then a fraction. Not for several threads at once.
 */
public final class NetworkWords {

  private static final int INPUTS_OF_A_WORD = 6;

  private final int inputs;
  private final int[] outputs;
  private final long[] values;

  /** The first multiplexer's place among the values. */
  private final int first;

  private final int zero;

  /** For each multiplexer the places of what selects and of what is taken at 0 and at 1. */
  private int[] program = new int[3 * 64];

  private int size;

  /**
   * Makes a network ready.
   *
   * @param network the network
   */
  public NetworkWords(LutNetwork network) {
    inputs = network.inputNames().size();
    zero = inputs;
    first = inputs + 2;
    List<LutNetwork.Lut> luts = network.luts();
    int[] places = new int[inputs + luts.size()];
    for (int i = 0; i < inputs; i++) {
      places[i] = i;
    }
    for (int i = 0; i < luts.size(); i++) {
      LutNetwork.Lut lut = luts.get(i);
      int[] fanIns = lut.fanIns().stream().mapToInt(signal -> places[signal]).toArray();
      places[inputs + i] = place(words(lut), fanIns, new HashMap<>());
    }
    outputs =
        network.outputs().stream()
            .mapToInt(
                output ->
                    output.signal() == LutNetwork.ZERO
                        ? zero
                        : output.signal() == LutNetwork.ONE ? zero + 1 : places[output.signal()])
            .toArray();
    values = new long[first + size];
    values[zero + 1] = -1L;
  }

  /** Returns the packed table of a LUT, a small one repeated until it fills a word. */
  private static long[] words(LutNetwork.Lut lut) {
    long[] words = lut.table().onWords();
    for (int i = lut.fanIns().size(); i < INPUTS_OF_A_WORD; i++) {
      words[0] |= words[0] << (1 << i);
    }
    return words;
  }

  /** Returns the place of a function of more inputs than a word has points for. */
  private int place(long[] table, int[] fanIns, Map<Long, Integer> known) {
    if (table.length == 1) {
      return place(table[0], fanIns, known);
    }
    int half = table.length / 2;
    int select = fanIns[INPUTS_OF_A_WORD - 1 + Integer.numberOfTrailingZeros(table.length)];
    int low = place(Arrays.copyOf(table, half), fanIns, known);
    int high = place(Arrays.copyOfRange(table, half, 2 * half), fanIns, known);
    return low == high ? low : multiplexer(select, low, high);
  }

  private int place(long function, int[] fanIns, Map<Long, Integer> known) {
    if (function == 0 || function == -1L) {
      return function == 0 ? zero : zero + 1;
    }
    Integer place = known.get(function);
    if (place != null) {
      return place;
    }
    int input = INPUTS_OF_A_WORD - 1;
    while (atZero(function, input) == atOne(function, input)) {
      input--;
    }
    int made = fanIns[input];
    if (function != PointWords.variable(input, 0)) {
      int low = place(atZero(function, input), fanIns, known);
      int high = place(atOne(function, input), fanIns, known);
      made = multiplexer(made, low, high);
    }
    known.put(function, made);
    return made;
  }

  private static long atZero(long function, int input) {
    long part = function & ~PointWords.variable(input, 0);
    return part | part << (1 << input);
  }

  private static long atOne(long function, int input) {
    long part = function & PointWords.variable(input, 0);
    return part | part >>> (1 << input);
  }

  private int multiplexer(int select, int low, int high) {
    if (3 * size == program.length) {
      program = Arrays.copyOf(program, 2 * program.length);
    }
    program[3 * size] = select;
    program[3 * size + 1] = low;
    program[3 * size + 2] = high;
    return first + size++;
  }

  /**
   * Evaluates 64 points at once.
   *
   * @param inputWords one word for each input: bit p is the input's value at point p
   * @return one word for each output, likewise
   * @throws IllegalArgumentException if the number of words is not the number of inputs
   */
  public long[] evaluate(long[] inputWords) {
    if (inputWords.length != inputs) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "lut network: %d inputs take as many words, found %d",
              inputs,
              inputWords.length));
    }
    System.arraycopy(inputWords, 0, values, 0, inputs);
    for (int i = 0, at = 0; i < size; i++, at += 3) {
      long low = values[program[at + 1]];
      values[first + i] = low ^ (values[program[at]] & (low ^ values[program[at + 2]]));
    }
    long[] result = new long[outputs.length];
    for (int i = 0; i < result.length; i++) {
      result[i] = values[outputs[i]];
    }
    return result;
  }
}

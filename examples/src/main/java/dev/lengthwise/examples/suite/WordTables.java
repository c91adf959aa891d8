package dev.lengthwise.examples.suite;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import java.util.ArrayList;
import java.util.List;
import java.util.function.IntPredicate;
import java.util.function.IntUnaryOperator;

/** Tables of functions from words to words: input {@code x} bit i is x{@code i}. */
final class WordTables {

  private WordTables() {}

  static TruthTables of(int inputs, int outputs, IntUnaryOperator word) {
    return of(inputs, outputs, word, x -> true);
  }

  /** Makes tables whose words matter at some points only; the word is not asked for elsewhere. */
  static TruthTables of(int inputs, int outputs, IntUnaryOperator word, IntPredicate matters) {
    List<TruthTable> tables = new ArrayList<>();
    for (int output = 0; output < outputs; output++) {
      int bit = output;
      tables.add(TruthTable.of(inputs, x -> (word.applyAsInt(x) >>> bit & 1) != 0, matters));
    }
    return TruthTables.of(tables);
  }

  /** Returns the outputs of two functions of the same inputs, side by side. */
  static TruthTables joined(TruthTables low, TruthTables high) {
    List<TruthTable> tables = new ArrayList<>(low.outputs());
    tables.addAll(high.outputs());
    return TruthTables.of(tables);
  }

  /** Returns bits of a word. */
  static int bits(int word, int from, int count) {
    return word >>> from & (1 << count) - 1;
  }
}

package dev.lengthwise.logic;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.List;
import java.util.function.IntPredicate;
import java.util.function.IntToLongFunction;

/**
 * One function with its published or proved minimum.
 *
 * @param name what the literature calls it, and the source of the figures
 * @param tables the function
 * @param shared the fewest terms when outputs share them
 * @param each the fewest terms of each output alone, output 0 first; empty if none is published
 */
public record TwoLevelCase(String name, List<TruthTable> tables, int shared, List<Integer> each) {

  static TwoLevelCase of(
      String name, int inputs, int outputs, IntToLongFunction value, int shared, Integer... each) {
    return of(name, inputs, outputs, value, point -> true, shared, each);
  }

  static TwoLevelCase of(
      String name,
      int inputs,
      int outputs,
      IntToLongFunction value,
      IntPredicate care,
      int shared,
      Integer... each) {
    return new TwoLevelCase(name, tables(inputs, outputs, value, care), shared, List.of(each));
  }

  public static List<TruthTable> tables(
      int inputs, int outputs, IntToLongFunction value, IntPredicate care) {
    List<TruthTable> tables = new ArrayList<>();
    for (int o = 0; o < outputs; o++) {
      int output = o;
      tables.add(TruthTable.of(inputs, p -> (value.applyAsLong(p) >>> output & 1) != 0, care));
    }
    return tables;
  }

  @Override
  public String toString() {
    return name;
  }
}

package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.OutputWords;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;
import java.util.stream.Collectors;

/**
 * A two-level circuit: product terms that may each feed several outputs.
 *
 * @param inputs the number of inputs, in [0, {@value TruthTable#MOST_INPUTS}]
 * @param outputs the number of outputs, in [1, 64]
 * @param cubes the product terms
 */
public record Cover(int inputs, int outputs, List<Cube> cubes) {

  /**
   * Copies the terms and checks that they fit.
   *
   * @param inputs the number of inputs, in [0, {@value TruthTable#MOST_INPUTS}]
   * @param outputs the number of outputs, in [1, 64]
   * @param cubes the product terms
   * @throws IllegalArgumentException if the number of outputs is out of range, or a term has
   *     another number of inputs or feeds an output that there is not
   */
  public Cover {
    if (outputs < 1 || outputs > Long.SIZE) {
      throw new IllegalArgumentException(
          "cover: the number of outputs must be in [1, 64], found " + outputs);
    }
    cubes = List.copyOf(cubes);
    for (Cube cube : cubes) {
      if (cube.inputs() != inputs) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "cover: each term must have %d inputs, found %d",
                inputs,
                cube.inputs()));
      }
      if (outputs < Long.SIZE && cube.outputs() >>> outputs != 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "cover: each term must feed some of the %d outputs, found 0x%x",
                outputs,
                cube.outputs()));
      }
    }
  }

  /**
   * Returns the number of product terms.
   *
   * @return at least 0
   */
  public int terms() {
    return cubes.size();
  }

  /**
   * Returns the number of input literals of all terms.
   *
   * @return at least 0
   */
  public int literals() {
    return cubes.stream().mapToInt(Cube::literals).sum();
  }

  /**
   * Returns the outputs at a point.
   *
   * @param point in [0, 2^inputs)
   * @return one bit an output
   */
  public long evaluate(int point) {
    long result = 0;
    for (Cube cube : cubes) {
      if (cube.holds(point)) {
        result |= cube.outputs();
      }
    }
    return result;
  }

  /**
   * Simulates every point and compares it with the tables.
   *
   * @param tables one table an output, output 0 first
   * @return the first point at which an output is not what its table asks, or nothing
   * @throws IllegalArgumentException if the number of tables or their inputs differ from the
   *     cover's
   */
  public OptionalInt firstMismatch(List<TruthTable> tables) {
    OutputWords spec = OutputWords.of(tables);
    if (spec.inputs() != inputs || spec.outputs() != outputs) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "cover: the tables must have %d inputs and %d outputs, found %d and %d",
              inputs,
              outputs,
              spec.inputs(),
              spec.outputs()));
    }
    long[] values = new long[1 << inputs];
    for (Cube cube : cubes) {
      for (int p = cube.value(); p >= 0; p = cube.nextPoint(p)) {
        values[p] |= cube.outputs();
      }
    }
    for (int p = 0; p < values.length; p++) {
      if ((values[p] & ~spec.allowed(p)) != 0 || (spec.needed(p) & ~values[p]) != 0) {
        return OptionalInt.of(p);
      }
    }
    return OptionalInt.empty();
  }

  /** Returns a line a term, inputs and outputs, the highest of each first. */
  @Override
  public String toString() {
    List<String> lines = new ArrayList<>();
    for (Cube cube : cubes) {
      StringBuilder line = new StringBuilder(cube.text()).append(' ');
      for (int o = outputs - 1; o >= 0; o--) {
        line.append((cube.outputs() >>> o & 1) == 0 ? '0' : '1');
      }
      lines.add(line.toString());
    }
    return lines.stream().collect(Collectors.joining("\n"));
  }
}

package dev.lengthwise.logic.map;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.decompose.Decomposer;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.network.NetworkOrder;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Random;

/**
 * Builds a network of few levels: each output is an exclusive or of products of a function of some
 * inputs, the <em>left</em> ones, and a function of others, the <em>right</em> ones.
 *
 * <p>Over the two-element field the values of the outputs at each left value are a vector over the
 * right values; a basis of these vectors gives the right functions, which all outputs share, and
 * the coefficients the left ones. Don't-cares let a vector be any that agrees where it matters.
 * With K inputs on each side the functions of one side take a level, the products, K/2 to a LUT,
 * the second, and the sums one more for each K-th power. Inputs left over, if there are more than
 * 2K, are split off by an exclusive-or expansion (positive Davio): f = f(0) xor x (f(0) xor f(1)).
 */
final class ProductSum {

  /** The most inputs beyond both sides: the planes of the expansion double with each. */
  private static final int MOST_EXTRA = 2;

  /** The most inputs of a side, so that a vector over its values is a word. */
  private static final int MOST_SIDE = 5;

  /** The partings of the inputs that are tried. */
  private static final int PARTINGS = 24;

  private final int lutInputs;
  private final LutNetworkBuilder builder;
  private final LutTree trees;
  private final List<TruthTable> tables;
  private final int[] left;
  private final int[] right;
  private final int[] extra;
  private final Random random;

  private ProductSum(
      int lutInputs,
      LutNetworkBuilder builder,
      List<TruthTable> tables,
      List<Integer> order,
      Random random) {
    int inputs = order.size();
    int rights = Math.min(side(lutInputs), inputs / 2);
    int lefts = Math.min(side(lutInputs), inputs - rights);
    this.lutInputs = lutInputs;
    this.builder = builder;
    this.trees = new LutTree(builder, lutInputs, Objective.AREA, Effort.QUICK);
    this.tables = tables;
    this.left = positions(order.subList(0, lefts));
    this.right = positions(order.subList(lefts, lefts + rights));
    this.extra = positions(order.subList(lefts + rights, inputs));
    this.random = random;
  }

  private static int[] positions(List<Integer> inputs) {
    return inputs.stream().mapToInt(Integer::intValue).toArray();
  }

  /** Tells whether a function of that many inputs can be built, and is no LUT anyway. */
  public static boolean fits(int inputs, int lutInputs) {
    return inputs > lutInputs && inputs <= 2 * side(lutInputs) + MOST_EXTRA;
  }

  private static int side(int lutInputs) {
    return Math.min(lutInputs, MOST_SIDE);
  }

  /** Builds a function with several partings of its inputs and returns the flattest network. */
  public static LutNetwork build(TruthTables function, int lutInputs, Random random) {
    List<LutNetwork> networks = new ArrayList<>();
    for (int i = 0; i < PARTINGS; i++) {
      List<Integer> order = new ArrayList<>();
      for (int input = 0; input < function.inputs(); input++) {
        order.add(input);
      }
      Collections.shuffle(order, random);
      LutNetworkBuilder builder = LutNetwork.builder(function.inputNames());
      int[] outputs =
          new ProductSum(lutInputs, builder, function.outputs(), order, random).outputs();
      for (int o = 0; o < outputs.length; o++) {
        builder.output(function.outputNames().get(o), outputs[o]);
      }
      networks.add(builder.build());
    }
    return Collections.min(networks, NetworkOrder.of(Objective.DEPTH, DelayModel.LEVELS));
  }

  private int[] outputs() {
    int planes = 1 << extra.length;
    int lefts = 1 << left.length;
    List<List<Integer>> terms = new ArrayList<>();
    tables.forEach(table -> terms.add(new ArrayList<>()));
    int[][][] done = new int[planes][][];
    for (int plane = 0; plane < planes; plane++) {
      Work.check();
      int[][] on = new int[tables.size()][lefts];
      int[][] care = new int[tables.size()][lefts];
      for (int o = 0; o < on.length; o++) {
        for (int l = 0; l < lefts; l++) {
          read(tables.get(o), l, plane, on[o], care[o]);
          for (int lower = 0; lower < plane; lower++) {
            on[o][l] ^= (lower & ~plane) == 0 ? done[lower][o][l] : 0;
          }
        }
      }
      Factors factors = new Factors(on, care);
      done[plane] = factors.values();
      addTerms(factors, plane, terms);
    }
    return terms.stream().mapToInt(this::sum).toArray();
  }

  /** Reads the vector of an output at a left value. */
  private void read(TruthTable table, int leftValue, int plane, int[] on, int[] care) {
    for (int r = 0; r < 1 << right.length; r++) {
      int point = spread(leftValue, left) | spread(r, right) | spread(plane, extra);
      on[leftValue] |= table.isOn(point) ? 1 << r : 0;
      care[leftValue] |= table.isCare(point) ? 1 << r : 0;
    }
  }

  private static int spread(int value, int[] positions) {
    int point = 0;
    for (int i = 0; i < positions.length; i++) {
      point |= (value >> i & 1) << positions[i];
    }
    return point;
  }

  /** Adds each output's products, as many to a LUT as fit beside the plane's inputs. */
  private void addTerms(Factors factors, int plane, List<List<Integer>> terms) {
    int[] shared = factors.basis.stream().mapToInt(vector -> function(vector, right)).toArray();
    int[] planeInputs = Arrays.stream(Decomposer.bits(plane)).map(bit -> extra[bit]).toArray();
    int each = Math.max(1, (lutInputs - planeInputs.length) / 2);
    for (int o = 0; o < terms.size(); o++) {
      List<Integer> factorSignals = new ArrayList<>();
      for (int b = 0; b < shared.length; b++) {
        int coefficients = factors.coefficients(o, b);
        if (coefficients != 0) {
          factorSignals.add(function(coefficients, left));
          factorSignals.add(shared[b]);
        }
      }
      for (int i = 0; i < factorSignals.size(); i += 2 * each) {
        int end = Math.min(factorSignals.size(), i + 2 * each);
        terms.get(o).add(products(factorSignals.subList(i, end), planeInputs));
      }
    }
  }

  private int function(int values, int[] inputs) {
    return builder.lut(TruthTable.of(inputs.length, p -> (values >> p & 1) != 0), inputs);
  }

  private int products(List<Integer> factors, int[] planeInputs) {
    int[] signals = Arrays.copyOf(positions(factors), factors.size() + planeInputs.length);
    System.arraycopy(planeInputs, 0, signals, factors.size(), planeInputs.length);
    int enabled = (1 << signals.length) - (1 << factors.size());
    TruthTable table =
        TruthTable.of(
            signals.length,
            point -> {
              boolean value = false;
              for (int i = 0; i < factors.size(); i += 2) {
                value ^= (point >> i & 3) == 3;
              }
              return value && (point & enabled) == enabled;
            });
    return trees.buildAll(List.of(table), signals)[0];
  }

  private int sum(List<Integer> terms) {
    List<Integer> rest = terms;
    while (rest.size() > 1) {
      List<Integer> next = new ArrayList<>();
      for (int i = 0; i < rest.size(); i += lutInputs) {
        int[] signals = positions(rest.subList(i, Math.min(rest.size(), i + lutInputs)));
        TruthTable parity =
            TruthTable.of(signals.length, point -> (Integer.bitCount(point) & 1) != 0);
        next.add(trees.buildAll(List.of(parity), signals)[0]);
      }
      rest = next;
    }
    return rest.isEmpty() ? LutNetwork.ZERO : rest.get(0);
  }

  /** A basis of vectors over the right values, and what of it each vector is. */
  private final class Factors {

    private final List<Integer> basis = new ArrayList<>();
    private final long[][] chosen;

    /** Finds a basis, the vectors that leave least open first. */
    Factors(int[][] on, int[][] care) {
      chosen = new long[on.length][on[0].length];
      List<int[]> places = new ArrayList<>();
      for (int o = 0; o < on.length; o++) {
        for (int l = 0; l < on[o].length; l++) {
          places.add(new int[] {o, l});
        }
      }
      Collections.shuffle(places, random);
      places.sort(Comparator.comparingInt(at -> -Integer.bitCount(care[at[0]][at[1]])));
      for (int[] at : places) {
        Work.check();
        int vector = on[at[0]][at[1]] & care[at[0]][at[1]];
        long combination = combination(vector, care[at[0]][at[1]]);
        if (combination < 0) {
          combination = 1L << basis.size();
          basis.add(vector);
        }
        chosen[at[0]][at[1]] = combination;
      }
    }

    /** Returns the basis vectors whose sum agrees with a vector where it matters, or -1. */
    private long combination(int vector, int care) {
      List<Integer> reduced = new ArrayList<>();
      List<Long> sources = new ArrayList<>();
      for (int b = 0; b < basis.size(); b++) {
        int rest = basis.get(b) & care;
        long source = 1L << b;
        for (int i = 0; i < reduced.size(); i++) {
          if ((rest & Integer.lowestOneBit(reduced.get(i))) != 0) {
            rest ^= reduced.get(i);
            source ^= sources.get(i);
          }
        }
        if (rest != 0) {
          reduced.add(rest);
          sources.add(source);
        }
      }
      int rest = vector;
      long result = 0;
      for (int i = 0; i < reduced.size(); i++) {
        if ((rest & Integer.lowestOneBit(reduced.get(i))) != 0) {
          rest ^= reduced.get(i);
          result ^= sources.get(i);
        }
      }
      return rest == 0 ? result : -1;
    }

    /** Returns at which left values an output's vector has a basis vector in it. */
    int coefficients(int output, int basisVector) {
      int result = 0;
      for (int l = 0; l < chosen[output].length; l++) {
        result |= (int) (chosen[output][l] >> basisVector & 1) << l;
      }
      return result;
    }

    /** Returns the vectors as they came out, don't-cares chosen. */
    int[][] values() {
      int[][] result = new int[chosen.length][chosen[0].length];
      for (int o = 0; o < result.length; o++) {
        for (int l = 0; l < result[o].length; l++) {
          for (int b = 0; b < basis.size(); b++) {
            result[o][l] ^= (chosen[o][l] >> b & 1) != 0 ? basis.get(b) : 0;
          }
        }
      }
      return result;
    }
  }
}

package dev.lengthwise.logic.diagram;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.work.Work;
import java.math.BigInteger;
import java.util.Arrays;
import java.util.HashMap;
import java.util.Map;
import java.util.Random;
import java.util.function.IntUnaryOperator;

/**
 * Reduced ordered decision diagrams that share their nodes.
 *
 * <p>A diagram is an {@code int}. Terminals stand for the numbers [0, {@value #TERMINALS}); those
 * of a Boolean diagram are 0 and 1. Variable 0 is decided first. Equal functions are equal
 * diagrams, so a comparison of two functions is one of two numbers.
 */
public final class DecisionDiagrams {

  /** The number of terminals. */
  public static final int TERMINALS = 128;

  private final int variables;
  private int[] variable = new int[1 << 12];
  private int[] low = new int[1 << 12];
  private int[] high = new int[1 << 12];
  private int[] next = new int[1 << 12];
  private int[] buckets = new int[1 << 12];
  private int count = TERMINALS;
  private int mostNodes = Integer.MAX_VALUE;
  private final int[] keys = new int[3 << CACHE_BITS];
  private final int[] results = new int[1 << CACHE_BITS];

  private static final int CACHE_BITS = 18;

  private static final int NODES_BETWEEN_CHECKS = 1 << 10;

  /**
   * Prepares for functions.
   *
   * @param variables the number of variables
   */
  public DecisionDiagrams(int variables) {
    this.variables = variables;
    Arrays.fill(variable, 0, TERMINALS, variables);
    Arrays.fill(buckets, -1);
    Arrays.fill(results, -1);
  }

  /**
   * Bounds the nodes from now on.
   *
   * @param nodes the nodes above which, about, an operation ends by a {@link TooManyNodesException}
   */
  public void bound(int nodes) {
    mostNodes = nodes;
  }

  /** Returns the diagram of a variable. */
  public int variable(int index) {
    return node(index, 0, 1);
  }

  /** Returns the diagram that is one of two others, as a variable before theirs is 0 or 1. */
  public int node(int index, int zero, int one) {
    if (zero == one) {
      return zero;
    }
    int bucket = hash(index, zero, one) & (buckets.length - 1);
    for (int n = buckets[bucket]; n >= 0; n = next[n]) {
      if (variable[n] == index && low[n] == zero && high[n] == one) {
        return n;
      }
    }
    if ((count & NODES_BETWEEN_CHECKS - 1) == 0) {
      Work.check();
      if (count > mostNodes) {
        throw new TooManyNodesException(mostNodes);
      }
    }
    if (count == variable.length) {
      grow();
      bucket = hash(index, zero, one) & (buckets.length - 1);
    }
    variable[count] = index;
    low[count] = zero;
    high[count] = one;
    next[count] = buckets[bucket];
    buckets[bucket] = count;
    return count++;
  }

  private static int hash(int a, int b, int c) {
    int h = (a * 0x9e3779b9 + b) * 0x85ebca6b + c;
    h = (h ^ h >>> 15) * 0xc2b2ae35;
    return h ^ h >>> 13;
  }

  private void grow() {
    int size = 2 * variable.length;
    variable = Arrays.copyOf(variable, size);
    low = Arrays.copyOf(low, size);
    high = Arrays.copyOf(high, size);
    next = Arrays.copyOf(next, size);
    buckets = new int[size];
    Arrays.fill(buckets, -1);
    for (int n = TERMINALS; n < count; n++) {
      int bucket = hash(variable[n], low[n], high[n]) & (size - 1);
      next[n] = buckets[bucket];
      buckets[bucket] = n;
    }
  }

  /** Returns the diagram that is {@code one} where a Boolean diagram is 1, else {@code zero}. */
  public int choose(int condition, int one, int zero) {
    if (condition == 1 || one == zero) {
      return one;
    }
    if (condition == 0) {
      return zero;
    }
    if (one == 1 && zero == 0) {
      return condition;
    }
    int slot = hash(condition, one, zero) & (results.length - 1);
    if (results[slot] >= 0
        && keys[3 * slot] == condition
        && keys[3 * slot + 1] == one
        && keys[3 * slot + 2] == zero) {
      return results[slot];
    }
    int top = Math.min(variable[condition], Math.min(variable[one], variable[zero]));
    int result =
        node(
            top,
            choose(low(condition, top), low(one, top), low(zero, top)),
            choose(high(condition, top), high(one, top), high(zero, top)));
    keys[3 * slot] = condition;
    keys[3 * slot + 1] = one;
    keys[3 * slot + 2] = zero;
    results[slot] = result;
    return result;
  }

  private int low(int diagram, int index) {
    return variable[diagram] == index ? low[diagram] : diagram;
  }

  private int high(int diagram, int index) {
    return variable[diagram] == index ? high[diagram] : diagram;
  }

  /** Returns where both of two Boolean diagrams are 1. */
  public int and(int a, int b) {
    return choose(a, b, 0);
  }

  /** Returns where two Boolean diagrams differ. */
  public int differ(int a, int b) {
    return choose(a, choose(b, 0, 1), b);
  }

  /** Returns a look-up table of Boolean diagrams, the first being input 0 of the table. */
  public int lookUp(TruthTable table, int... inputs) {
    return lookUp(table, inputs, inputs.length - 1, 0);
  }

  private int lookUp(TruthTable table, int[] inputs, int input, int point) {
    if (input < 0) {
      return table.isOn(point) ? 1 : 0;
    }
    int one = lookUp(table, inputs, input - 1, point | 1 << input);
    int zero = lookUp(table, inputs, input - 1, point);
    return choose(inputs[input], one, zero);
  }

  /** Returns the diagram in which every terminal is replaced. */
  public int map(int diagram, IntUnaryOperator terminal) {
    return map(diagram, terminal, new HashMap<>());
  }

  private int map(int diagram, IntUnaryOperator terminal, Map<Integer, Integer> known) {
    if (diagram < TERMINALS) {
      return terminal.applyAsInt(diagram);
    }
    Integer found = known.get(diagram);
    if (found == null) {
      found =
          node(
              variable[diagram],
              map(low[diagram], terminal, known),
              map(high[diagram], terminal, known));
      known.put(diagram, found);
    }
    return found;
  }

  /** Returns a diagram with a variable set. */
  public int with(int diagram, int index, boolean one) {
    return with(diagram, index, one, new HashMap<>());
  }

  private int with(int diagram, int index, boolean one, Map<Integer, Integer> known) {
    if (variable[diagram] > index) {
      return diagram;
    }
    if (variable[diagram] == index) {
      return one ? high[diagram] : low[diagram];
    }
    Integer found = known.get(diagram);
    if (found == null) {
      found =
          node(
              variable[diagram],
              with(low[diagram], index, one, known),
              with(high[diagram], index, one, known));
      known.put(diagram, found);
    }
    return found;
  }

  /** Counts the points at which a Boolean diagram is 1. */
  public BigInteger points(int diagram) {
    return count(diagram, new HashMap<>()).shiftLeft(variable[diagram]);
  }

  /** Counts over the variables from a diagram's own on. */
  private BigInteger count(int diagram, Map<Integer, BigInteger> known) {
    if (diagram < TERMINALS) {
      return BigInteger.valueOf(diagram);
    }
    BigInteger found = known.get(diagram);
    if (found == null) {
      found =
          countBelow(diagram, low[diagram], known).add(countBelow(diagram, high[diagram], known));
      known.put(diagram, found);
    }
    return found;
  }

  private BigInteger countBelow(int diagram, int child, Map<Integer, BigInteger> known) {
    return count(child, known).shiftLeft(variable[child] - variable[diagram] - 1);
  }

  /**
   * Returns the first point, 0 before 1 in each variable, at which a Boolean diagram is 1; the
   * diagram must not be constant 0.
   */
  public boolean[] firstPoint(int diagram) {
    boolean[] point = new boolean[variables];
    int at = diagram;
    while (at >= TERMINALS) {
      point[variable[at]] = low[at] == 0;
      at = low[at] == 0 ? high[at] : low[at];
    }
    return point;
  }

  /** Returns a point drawn at random at which a Boolean diagram, not constant 0, is 1. */
  public boolean[] randomPoint(int diagram, Random random) {
    boolean[] point = new boolean[variables];
    for (int i = 0; i < variables; i++) {
      point[i] = random.nextBoolean();
    }
    int at = diagram;
    while (at >= TERMINALS) {
      boolean one = low[at] == 0 || high[at] != 0 && point[variable[at]];
      point[variable[at]] = one;
      at = one ? high[at] : low[at];
    }
    return point;
  }

  /** Returns the number of nodes made so far. */
  public int size() {
    return count;
  }
}

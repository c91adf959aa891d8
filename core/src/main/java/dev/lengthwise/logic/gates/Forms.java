package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.words.PointWords;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.PriorityQueue;

/**
 * Small structures of AND gates for functions of up to six inputs, found once for each function.
 *
 * <p>A function is a word of its 64 points. What splits it for certain is split off first: an input
 * that forces the output or only complements it, a pair of inputs of which only one function
 * counts. The rest is expanded by each input; the structures that are smallest and those that are
 * flattest are kept.
 */
final class Forms {

  /** The most inputs of a function. */
  static final int MOST_INPUTS = 6;

  private static final int KEPT = 4;

  /** A function with more forms to try than this keeps the first found. */
  private static final int PAIRS = 3;

  private final AndGraph store = new AndGraph(new int[MOST_INPUTS]);
  private final Map<Long, List<Form>> known = new HashMap<>();
  private final Map<Long, Integer> smallest = new HashMap<>();
  private final Map<Integer, Form> forms = new HashMap<>();

  /**
   * A structure: gate i reads {@code edges[2 * i]} and {@code edges[2 * i + 1]}, literals over the
   * constant, the inputs and the gates before it.
   */
  static final class Form {
    private final int inputs;
    private final int[] edges;
    private final int output;

    Form(int inputs, int[] edges, int output) {
      this.inputs = inputs;
      this.edges = edges;
      this.output = output;
    }

    int inputs() {
      return inputs;
    }

    /** Returns an edge, two for each gate in order. */
    int edge(int index) {
      return edges[index];
    }

    int output() {
      return output;
    }

    int gates() {
      return edges.length / 2;
    }

    /** Adds the gates to a graph, the inputs being the literals given. */
    int build(AndGraph graph, int[] leaves) {
      int[] map = new int[1 + inputs + gates()];
      System.arraycopy(leaves, 0, map, 1, Math.min(leaves.length, inputs));
      for (int i = 0; i < gates(); i++) {
        map[1 + inputs + i] =
            graph.and(AndGraph.mapped(map, edges[2 * i]), AndGraph.mapped(map, edges[2 * i + 1]));
      }
      return AndGraph.mapped(map, output);
    }
  }

  /** Returns the structures to try for a function where few gates count, the smallest first. */
  List<Form> small(long table) {
    List<Form> all = all(table);
    return all.size() > KEPT ? all.subList(0, KEPT) : all;
  }

  /** Returns all structures known for a function, the smallest first. */
  List<Form> all(long table) {
    List<Form> found = known.get(table);
    if (found == null) {
      int odd = (int) (table & 1);
      List<Form> made = new ArrayList<>();
      for (int literal : choices(odd == 1 ? ~table : table)) {
        made.add(form(literal ^ odd));
      }
      found = made;
      known.put(table, found);
    }
    return found;
  }

  private Form form(int literal) {
    return forms.computeIfAbsent(literal, this::extract);
  }

  private Form extract(int literal) {
    int[] cone = cone(literal);
    int[] edges = new int[2 * cone.length];
    for (int i = 0; i < cone.length; i++) {
      edges[2 * i] = local(cone, store.left(cone[i]));
      edges[2 * i + 1] = local(cone, store.right(cone[i]));
    }
    return new Form(MOST_INPUTS, edges, local(cone, literal));
  }

  /** Returns a literal by the place of its gate in a cone. */
  private static int local(int[] cone, int literal) {
    int place = Arrays.binarySearch(cone, literal >> 1);
    return place < 0 ? literal : 2 * (1 + MOST_INPUTS + place) | literal & 1;
  }

  /** Returns the gates below a literal; their numbers rise from inputs to outputs. */
  private int[] cone(int literal) {
    int[] cone = new int[16];
    int size = 0;
    // The highest number still to look at is never below one that it needs.
    PriorityQueue<Integer> open = new PriorityQueue<>(Comparator.reverseOrder());
    open.add(literal >> 1);
    int last = -1;
    while (!open.isEmpty()) {
      int node = open.remove();
      if (node != last && store.isGate(node)) {
        cone = size == cone.length ? Arrays.copyOf(cone, 2 * size) : cone;
        cone[size++] = node;
        open.add(store.left(node) >> 1);
        open.add(store.right(node) >> 1);
      }
      last = node;
    }
    int[] result = new int[size];
    for (int i = 0; i < size; i++) {
      result[i] = cone[size - 1 - i];
    }
    return result;
  }

  private int size(int literal) {
    return form(literal).gates();
  }

  private int[] choices(long table) {
    List<Integer> found = new ArrayList<>();
    found.add(smallest(table));
    if (certain(table) < 0) {
      for (int input = 0; input < MOST_INPUTS; input++) {
        if (depends(table, input)) {
          expansions(table, input, found);
        }
      }
    }
    return found.stream()
        .distinct()
        .sorted(
            (a, b) ->
                size(a) != size(b)
                    ? Integer.compare(size(a), size(b))
                    : Integer.compare(store.level(a >> 1), store.level(b >> 1)))
        .mapToInt(Integer::intValue)
        .toArray();
  }

  /** Returns the literal of a small structure of a function. */
  private int smallest(long table) {
    if (table == 0 || table == -1L) {
      return table == 0 ? AndGraph.FALSE : AndGraph.TRUE;
    }
    boolean odd = (table & 1) != 0;
    long even = odd ? ~table : table;
    Integer found = smallest.get(even);
    if (found == null) {
      int literal = certain(even);
      found = literal >= 0 ? literal : expanded(even);
      smallest.put(even, found);
    }
    return odd ? found ^ 1 : found;
  }

  private int expanded(long table) {
    List<Integer> found = new ArrayList<>();
    int[] inputs = new int[MOST_INPUTS];
    int count = 0;
    for (int input = 0; input < MOST_INPUTS; input++) {
      if (depends(table, input)) {
        inputs[count++] = input;
      }
    }
    if (count <= 4) {
      for (int i = 0; i < count; i++) {
        expansions(table, inputs[i], found);
      }
    } else {
      for (int input : simplest(table, Arrays.copyOf(inputs, count))) {
        expansions(table, input, found);
      }
    }
    int best = found.get(0);
    for (int literal : found) {
      if (size(literal) < size(best)
          || (size(literal) == size(best) && store.level(literal >> 1) < store.level(best >> 1))) {
        best = literal;
      }
    }
    return best;
  }

  /** Returns the inputs whose cofactors depend on the fewest inputs. */
  private static int[] simplest(long table, int[] inputs) {
    Integer[] order = Arrays.stream(inputs).boxed().toArray(Integer[]::new);
    int[] support = new int[MOST_INPUTS];
    for (int input : inputs) {
      for (int other : inputs) {
        support[input] += depends(cofactor(table, input, false), other) ? 1 : 0;
        support[input] += depends(cofactor(table, input, true), other) ? 1 : 0;
      }
    }
    Arrays.sort(order, (a, b) -> Integer.compare(support[a], support[b]));
    return Arrays.stream(order).limit(PAIRS).mapToInt(Integer::intValue).toArray();
  }

  /** Adds a function as a choice of its cofactors by an input, and by ANDs where one holds less. */
  private void expansions(long table, int input, List<Integer> found) {
    long zero = cofactor(table, input, false);
    long one = cofactor(table, input, true);
    int x = literal(input);
    if ((zero & ~one) == 0) {
      found.add(store.or(smallest(zero), store.and(x, smallest(one))));
      found.add(store.and(smallest(one), store.or(x, smallest(zero))));
      return;
    }
    if ((one & ~zero) == 0) {
      found.add(store.or(smallest(one), store.and(x ^ 1, smallest(zero))));
      found.add(store.and(smallest(zero), store.or(x ^ 1, smallest(one))));
      return;
    }
    found.add(store.mux(x, smallest(one), smallest(zero)));
    long both = one & zero;
    if (both != 0 && (both == one || both == zero || isSimple(both))) {
      found.add(
          store.or(
              smallest(both),
              store.or(store.and(x, smallest(one)), store.and(x ^ 1, smallest(zero)))));
    }
  }

  private static boolean isSimple(long table) {
    int inputs = 0;
    for (int input = 0; input < MOST_INPUTS; input++) {
      inputs += depends(table, input) ? 1 : 0;
    }
    return inputs <= 1;
  }

  /** Splits off what can be split without a choice; negative if there is nothing. */
  private int certain(long table) {
    for (int input = 0; input < MOST_INPUTS; input++) {
      long zero = cofactor(table, input, false);
      long one = cofactor(table, input, true);
      int x = literal(input);
      if (zero == one) {
        continue;
      }
      if (zero == 0) {
        return store.and(x, smallest(one));
      } else if (one == 0) {
        return store.and(x ^ 1, smallest(zero));
      } else if (zero == -1L) {
        return store.or(x ^ 1, smallest(one));
      } else if (one == -1L) {
        return store.or(x, smallest(zero));
      } else if (one == ~zero) {
        return store.xor(x, smallest(zero));
      }
    }
    for (int high = 1; high < MOST_INPUTS; high++) {
      for (int low = 0; low < high; low++) {
        if (depends(table, low) && depends(table, high)) {
          int found = paired(table, low, high);
          if (found >= 0) {
            return found;
          }
        }
      }
    }
    return -1;
  }

  /** Lets one function stand for two inputs if nothing else of them counts. */
  private int paired(long table, int low, int high) {
    long[] part = new long[4];
    for (int i = 0; i < 4; i++) {
      part[i] = cofactor(cofactor(table, low, (i & 1) != 0), high, (i & 2) != 0);
    }
    int mask = 0;
    long other = part[0];
    for (int i = 1; i < 4; i++) {
      if (part[i] != part[0]) {
        mask |= 1 << i;
        if (other != part[0] && part[i] != other) {
          return -1;
        }
        other = part[i];
      }
    }
    long x = PointWords.variable(low, 0);
    int rest = smallest(x & other | ~x & part[0]);
    int a = literal(low);
    int b = literal(high);
    // mask: where the pair is not as at 0, 0.
    int pair =
        switch (mask) {
          case 0b0010 -> store.and(a, b ^ 1);
          case 0b0100 -> store.and(a ^ 1, b);
          case 0b1000 -> store.and(a, b);
          case 0b0110 -> store.xor(a, b);
          case 0b1110 -> store.or(a, b);
          default -> -1;
        };
    return pair < 0 ? -1 : substitute(rest, low, pair);
  }

  private int substitute(int literal, int input, int pair) {
    int[] leaves = new int[MOST_INPUTS];
    for (int i = 0; i < MOST_INPUTS; i++) {
      leaves[i] = i == input ? pair : literal(i);
    }
    return form(literal).build(store, leaves);
  }

  private static int literal(int input) {
    return 2 * (input + 1);
  }

  static boolean depends(long table, int input) {
    return cofactor(table, input, false) != cofactor(table, input, true);
  }

  static long cofactor(long table, int input, boolean one) {
    long variable = PointWords.variable(input, 0);
    int shift = 1 << input;
    return one
        ? (table & variable) | (table & variable) >>> shift
        : (table & ~variable) | (table & ~variable) << shift;
  }
}

package dev.lengthwise.logic.gates;

import java.util.ArrayList;
import java.util.List;

/**
 * Gates for a sum of products, by taking out what products share (quick factoring, R. K. Brayton,
 * "Factoring logic functions", 1987).
 *
 * <p>Products are sets of literals as in {@link IrredundantSum}.
 */
final class FactoredForm {

  private final AndGraph graph;

  private FactoredForm(AndGraph graph) {
    this.graph = graph;
  }

  /**
   * Returns the smaller structure of a function and of its complement.
   *
   * @param table the points of the function, as words
   * @param arrivals the level of each input
   */
  static Forms.Form of(long[] table, int[] arrivals) {
    long[] opposite = new long[table.length];
    for (int w = 0; w < table.length; w++) {
      opposite[w] = ~table[w];
    }
    AndGraph even = graph(table, arrivals, 0);
    AndGraph odd = graph(opposite, arrivals, 1);
    AndGraph better = odd.gates() < even.gates() ? odd : even;
    int first = 1 + better.inputs();
    int[] edges = new int[2 * better.gates()];
    for (int gate = first; gate < better.nodes(); gate++) {
      edges[2 * (gate - first)] = better.left(gate);
      edges[2 * (gate - first) + 1] = better.right(gate);
    }
    return new Forms.Form(better.inputs(), edges, better.output(0));
  }

  private static AndGraph graph(long[] table, int[] arrivals, int odd) {
    AndGraph graph = new AndGraph(arrivals);
    List<Integer> products = IrredundantSum.of(table, arrivals.length);
    graph.addOutput(new FactoredForm(graph).sum(products) ^ odd);
    return graph.clean();
  }

  private int sum(List<Integer> products) {
    if (products.isEmpty()) {
      return AndGraph.FALSE;
    }
    if (products.size() == 1) {
      return product(products.get(0));
    }
    int common = common(products);
    if (common != 0) {
      return graph.and(product(common), sum(quotient(products, common)));
    }
    List<Integer> divisor = divisor(products);
    if (divisor.equals(products)) {
      return any(products.stream().map(this::product).toList());
    }
    List<Integer> quotient = quotient(products, divisor);
    if (quotient.size() == 1) {
      return byLiteral(products, quotient.get(0));
    }
    quotient = quotient(quotient, common(quotient));
    List<Integer> other = quotient(products, quotient);
    int shared = common(other);
    if (shared != 0) {
      return byLiteral(products, shared);
    }
    List<Integer> rest = new ArrayList<>(products);
    for (int one : quotient) {
      other.forEach(two -> rest.remove((Integer) (one | two)));
    }
    return graph.or(graph.and(sum(quotient), sum(other)), sum(rest));
  }

  /** Takes out the literal of a product that most products have. */
  private int byLiteral(List<Integer> products, int among) {
    int best = 0;
    long most = 0;
    for (int left = among; left != 0; left &= left - 1) {
      int literal = Integer.lowestOneBit(left);
      long having = products.stream().filter(product -> (product & literal) != 0).count();
      if (having > most) {
        most = having;
        best = literal;
      }
    }
    int literal = best;
    List<Integer> rest = products.stream().filter(product -> (product & literal) == 0).toList();
    return graph.or(graph.and(product(literal), sum(quotient(products, literal))), sum(rest));
  }

  /** Returns a divisor of which no product shares a literal with another; the sum if it is one. */
  private static List<Integer> divisor(List<Integer> products) {
    List<Integer> divisor = products;
    for (int literal = rarest(divisor); literal != 0; literal = rarest(divisor)) {
      List<Integer> quotient = quotient(divisor, literal);
      divisor = quotient(quotient, common(quotient));
    }
    return divisor;
  }

  /** Returns the literal that the fewest products have, but at least two; 0 if there is none. */
  private static int rarest(List<Integer> products) {
    int best = 0;
    int fewest = Integer.MAX_VALUE;
    for (int left = products.stream().reduce(0, (a, b) -> a | b); left != 0; left &= left - 1) {
      int literal = Integer.lowestOneBit(left);
      int having = 0;
      for (int product : products) {
        having += (product & literal) != 0 ? 1 : 0;
      }
      if (having > 1 && having < fewest) {
        fewest = having;
        best = literal;
      }
    }
    return best;
  }

  private static int common(List<Integer> products) {
    return products.stream().reduce(-1, (a, b) -> a & b);
  }

  /** Returns what is left of the products that have some literals, without these. */
  private static List<Integer> quotient(List<Integer> products, int literals) {
    return products.stream()
        .filter(product -> (product & literals) == literals)
        .map(product -> product & ~literals)
        .toList();
  }

  /** Returns the products that, with each product of a divisor, are products of the sum. */
  private static List<Integer> quotient(List<Integer> products, List<Integer> divisor) {
    List<Integer> result = new ArrayList<>(quotient(products, divisor.get(0)));
    for (int product : divisor) {
      result.retainAll(quotient(products, product));
    }
    return result;
  }

  private int product(int literals) {
    List<Integer> operands = new ArrayList<>();
    for (int left = literals; left != 0; left &= left - 1) {
      int bit = Integer.numberOfTrailingZeros(left);
      operands.add(2 * (1 + bit / 2) | bit & 1);
    }
    return all(operands);
  }

  private int any(List<Integer> operands) {
    return all(operands.stream().map(literal -> literal ^ 1).toList()) ^ 1;
  }

  /** Joins what comes first first. */
  private int all(List<Integer> operands) {
    List<Integer> left = new ArrayList<>(operands);
    while (left.size() > 1) {
      left.sort(graph.latestFirst());
      int last = left.remove(left.size() - 1);
      left.add(graph.and(last, left.remove(left.size() - 1)));
    }
    return left.isEmpty() ? AndGraph.TRUE : left.get(0);
  }
}

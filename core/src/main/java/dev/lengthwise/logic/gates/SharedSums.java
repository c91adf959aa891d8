package dev.lengthwise.logic.gates;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * Builds sums modulo two anew, so that what several of them add is added once: parities, checks and
 * their like, in which a change of one gate is always wrong and rewriting comes to nothing.
 */
final class SharedSums {

  /** What is shared first. */
  private enum Order {
    /** What two sums have most of in common. */
    LARGEST,
    /** The two operands that most sums have. */
    PAIRS
  }

  /** A sum of more operands is an operand itself. */
  private static final int MOST_OPERANDS = 64;

  /** A graph of more sums stays as it is. */
  private static final int MOST_SUMS = 160;

  private final AndGraph old;
  private final AndGraph graph;
  private final Order order;
  private final Map<Integer, Sum> sums = new LinkedHashMap<>();
  private final Map<Integer, Integer> built = new LinkedHashMap<>();

  /** The number of the next part that sums share, beyond those of nodes. */
  private int next;

  /**
   * A sum modulo two.
   *
   * @param operands nodes and shared parts
   * @param odd whether 1 is added
   */
  private record Sum(BitSet operands, boolean odd) {

    Sum plus(Sum other, boolean one) {
      BitSet both = (BitSet) operands.clone();
      both.xor(other.operands);
      return new Sum(both, odd ^ other.odd ^ one);
    }
  }

  private SharedSums(AndGraph old, Order order) {
    this.old = old;
    this.graph = old.empty();
    this.order = order;
    this.next = old.nodes();
    built.put(0, AndGraph.FALSE);
    for (int i = 1; i <= old.inputs(); i++) {
      built.put(i, 2 * i);
    }
  }

  /**
   * Returns graphs of the same outputs, clean, one for each order of sharing; the old one alone if
   * it has no sums to share.
   */
  static List<AndGraph> of(AndGraph old) {
    List<AndGraph> graphs = new ArrayList<>();
    for (Order order : Order.values()) {
      SharedSums shared = new SharedSums(old, order);
      if (!shared.find()) {
        return List.of(old);
      }
      graphs.add(shared.build());
    }
    return List.copyOf(graphs);
  }

  /** Finds the sums that are needed as such; tells whether there are some, and not too many. */
  private boolean find() {
    Map<Integer, Sum> all = new LinkedHashMap<>();
    for (int gate : old.order()) {
      int[] operands = operands(gate);
      if (operands != null) {
        Sum left = seen(operands[0] >> 1, all);
        Sum right = seen(operands[1] >> 1, all);
        all.put(gate, left.plus(right, ((operands[0] ^ operands[1]) & 1) != 0));
      }
    }
    BitSet reached = new BitSet();
    for (int i = 0; i < old.outputs(); i++) {
      reach(old.output(i) >> 1, all, reached);
    }
    return sums.size() > 1 && sums.size() <= MOST_SUMS;
  }

  private static Sum seen(int node, Map<Integer, Sum> all) {
    Sum known = all.get(node);
    if (known != null && known.operands().cardinality() <= MOST_OPERANDS) {
      return known;
    }
    BitSet itself = new BitSet();
    itself.set(node, node != 0);
    return new Sum(itself, false);
  }

  /** Returns the two literals whose sum a gate is, or null if it is none. */
  private int @Nullable [] operands(int gate) {
    int left = old.left(gate);
    int right = old.right(gate);
    int one = left >> 1;
    int two = right >> 1;
    if ((left & right & 1) == 0 || !old.isGate(one) || !old.isGate(two)) {
      return null;
    }
    int a = old.left(one);
    int b = old.right(one);
    boolean opposite =
        old.left(two) == (a ^ 1) && old.right(two) == (b ^ 1)
            || old.left(two) == (b ^ 1) && old.right(two) == (a ^ 1);
    return opposite ? new int[] {a, b} : null;
  }

  private void reach(int node, Map<Integer, Sum> all, BitSet reached) {
    if (reached.get(node) || !old.isGate(node)) {
      return;
    }
    reached.set(node);
    Sum sum = all.get(node);
    if (sum == null) {
      reach(old.left(node) >> 1, all, reached);
      reach(old.right(node) >> 1, all, reached);
      return;
    }
    sums.put(node, sum);
    sum.operands().stream().forEach(operand -> reach(operand, all, reached));
  }

  private AndGraph build() {
    while (share()) {
      Work.check();
    }
    for (int i = 0; i < old.outputs(); i++) {
      graph.addOutput(literal(old.output(i) >> 1) ^ old.output(i) & 1);
    }
    return graph.clean();
  }

  /** Lets all sums that can read a part of some of them; tells whether there was one to share. */
  private boolean share() {
    BitSet part = order == Order.LARGEST ? largest() : commonest();
    if (part.cardinality() < 2) {
      return false;
    }
    int name = next;
    for (Map.Entry<Integer, Sum> sum : sums.entrySet()) {
      if (sum.getValue().operands().equals(part)) {
        name = sum.getKey();
      }
    }
    boolean odd = name != next && sums.get(name).odd();
    for (Map.Entry<Integer, Sum> entry : sums.entrySet()) {
      Sum sum = entry.getValue();
      if (entry.getKey() != name && holds(sum.operands(), part)) {
        BitSet rest = (BitSet) sum.operands().clone();
        rest.andNot(part);
        rest.set(name);
        entry.setValue(new Sum(rest, sum.odd() ^ odd));
      }
    }
    if (name == next) {
      sums.put(next++, new Sum(part, false));
    }
    return true;
  }

  private static boolean holds(BitSet operands, BitSet part) {
    BitSet missing = (BitSet) part.clone();
    missing.andNot(operands);
    return missing.isEmpty();
  }

  private BitSet largest() {
    List<Sum> all = List.copyOf(sums.values());
    BitSet best = new BitSet();
    for (int i = 0; i < all.size(); i++) {
      for (int j = 0; j < i; j++) {
        BitSet both = (BitSet) all.get(i).operands().clone();
        both.and(all.get(j).operands());
        if (both.cardinality() > Math.max(1, best.cardinality())) {
          best = both;
        }
      }
    }
    return best;
  }

  private BitSet commonest() {
    Map<List<Integer>, Integer> pairs = new LinkedHashMap<>();
    for (Sum sum : sums.values()) {
      int[] operands = sum.operands().stream().toArray();
      for (int i = 0; i < operands.length; i++) {
        for (int j = 0; j < i; j++) {
          pairs.merge(List.of(operands[i], operands[j]), 1, Integer::sum);
        }
      }
    }
    BitSet best = new BitSet();
    int most = 1;
    for (Map.Entry<List<Integer>, Integer> pair : pairs.entrySet()) {
      if (pair.getValue() > most) {
        most = pair.getValue();
        best = new BitSet();
        pair.getKey().forEach(best::set);
      }
    }
    return best;
  }

  private int literal(int node) {
    Integer known = built.get(node);
    if (known != null) {
      return known;
    }
    Sum sum = sums.get(node);
    int literal =
        sum != null
            ? added(sum)
            : graph.and(
                literal(old.left(node) >> 1) ^ old.left(node) & 1,
                literal(old.right(node) >> 1) ^ old.right(node) & 1);
    built.put(node, literal);
    return literal;
  }

  /** Adds what comes late last. */
  private int added(Sum sum) {
    List<Integer> literals = new ArrayList<>();
    sum.operands().stream().forEach(operand -> literals.add(literal(operand)));
    while (literals.size() > 1) {
      literals.sort(graph.latestFirst());
      int last = literals.remove(literals.size() - 1);
      literals.add(graph.xor(last, literals.remove(literals.size() - 1)));
    }
    return (literals.isEmpty() ? AndGraph.FALSE : literals.get(0)) ^ (sum.odd() ? 1 : 0);
  }
}

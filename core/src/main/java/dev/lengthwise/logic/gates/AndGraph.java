package dev.lengthwise.logic.gates;

import java.util.Arrays;
import java.util.Comparator;

/**
 * A graph of two-input AND gates whose edges may be complemented; no two gates have equal edges.
 *
 * <p>A <em>literal</em> is {@code 2 * node + 1} for the complement of a node and {@code 2 * node}
 * for itself. Node 0 is the constant 0, nodes 1 to {@code inputs} the inputs. A gate may be
 * replaced by a literal in place; so the numbers of gates say nothing of their order: {@link
 * #order()} does.
 */
final class AndGraph {

  static final int FALSE = 0;
  static final int TRUE = 1;

  private static final int NONE = -1;
  private static final int GONE = -2;

  /** The left edge of a gate that reads nothing while what reads it is moved. */
  private static final int UNREAD = -3;

  private final int inputs;
  private int count;
  private int[] left;
  private int[] right;
  private int[] readers;
  private int[] levels;
  private int[] firstReader;
  private int[] nextReader;
  private int[] previousReader;
  private int[] buckets;
  private int[] nextInBucket;
  private int gates;
  private int[] outputs = {};
  private int outputCount;

  /** Starts a graph whose inputs arrive at the given levels. */
  AndGraph(int[] arrivals) {
    this.inputs = arrivals.length;
    this.count = inputs + 1;
    int room = Integer.highestOneBit(count + 255) << 1;
    left = filled(room);
    right = filled(room);
    readers = new int[room];
    levels = new int[room];
    System.arraycopy(arrivals, 0, levels, 1, inputs);
    firstReader = filled(room);
    nextReader = filled(2 * room);
    previousReader = filled(2 * room);
    buckets = filled(room);
    nextInBucket = filled(room);
  }

  private static int[] filled(int length) {
    int[] result = new int[length];
    Arrays.fill(result, NONE);
    return result;
  }

  /** Returns a graph without gates of the same inputs. */
  AndGraph empty() {
    return new AndGraph(Arrays.copyOfRange(levels, 1, inputs + 1));
  }

  int inputs() {
    return inputs;
  }

  /** Returns a number above that of every node. */
  int nodes() {
    return count;
  }

  /** Returns the number of gates, those that nothing reads included. */
  int gates() {
    return gates;
  }

  boolean isGate(int node) {
    return node > inputs && left[node] >= 0;
  }

  int left(int gate) {
    return left[gate];
  }

  int right(int gate) {
    return right[gate];
  }

  /** Returns how many edges and outputs read a node. */
  int readers(int node) {
    return readers[node];
  }

  /** Counts readers more or fewer of a node, for a while, without a change of the graph. */
  void hold(int node, int more) {
    readers[node] += more;
  }

  /** Returns the gates on the longest path to a node, beyond the arrivals of inputs. */
  int level(int node) {
    return levels[node];
  }

  /** Returns the order of literals in which what comes late stands first. */
  Comparator<Integer> latestFirst() {
    return Comparator.<Integer>comparingInt(literal -> -level(literal >> 1))
        .thenComparingInt(literal -> literal);
  }

  int outputs() {
    return outputCount;
  }

  int output(int index) {
    return outputs[index];
  }

  void addOutput(int literal) {
    if (outputCount == outputs.length) {
      outputs = Arrays.copyOf(outputs, Math.max(8, 2 * outputCount));
    }
    outputs[outputCount++] = literal;
    readers[literal >> 1]++;
  }

  /** Returns the literal of an AND, which is made if it is not there. */
  int and(int a, int b) {
    int found = find(a, b);
    return found != NONE ? found : 2 * add(Math.min(a, b), Math.max(a, b));
  }

  int or(int a, int b) {
    return and(a ^ 1, b ^ 1) ^ 1;
  }

  int xor(int a, int b) {
    return or(and(a, b ^ 1), and(a ^ 1, b));
  }

  int mux(int select, int one, int zero) {
    if (one == zero) {
      return one;
    }
    return one == (zero ^ 1) ? xor(select, zero) : or(and(select, one), and(select ^ 1, zero));
  }

  /** Returns the literal of an AND if it takes no new gate, else a negative number. */
  int find(int a, int b) {
    if (a == b || b == TRUE) {
      return a;
    }
    if (a == TRUE) {
      return b;
    }
    if (a == FALSE || b == FALSE || a == (b ^ 1)) {
      return FALSE;
    }
    int implied = implied(a, b);
    implied = implied != NONE ? implied : implied(b, a);
    return implied != NONE ? implied : known(Math.min(a, b), Math.max(a, b));
  }

  /** An AND of a literal and a gate that reads it, or whose complement does. */
  private int implied(int a, int b) {
    int node = b >> 1;
    if (!isGate(node)) {
      return NONE;
    }
    boolean same = left[node] == a || right[node] == a;
    boolean opposite = left[node] == (a ^ 1) || right[node] == (a ^ 1);
    if ((b & 1) == 0) {
      return same ? b : opposite ? FALSE : NONE;
    }
    return opposite ? a : NONE;
  }

  private int known(int low, int high) {
    for (int n = buckets[hash(low, high)]; n != NONE; n = nextInBucket[n]) {
      if (left[n] == low && right[n] == high) {
        return 2 * n;
      }
    }
    return NONE;
  }

  private int hash(int low, int high) {
    int h = (low * 0x9e3779b9 ^ high) * 0x85ebca6b;
    return (h ^ h >>> 15) & buckets.length - 1;
  }

  private int add(int low, int high) {
    if (count == left.length) {
      grow();
    }
    int node = count++;
    gates++;
    connect(node, low, high);
    return node;
  }

  private void grow() {
    int room = 2 * count;
    left = Arrays.copyOf(left, room);
    right = Arrays.copyOf(right, room);
    readers = Arrays.copyOf(readers, room);
    levels = Arrays.copyOf(levels, room);
    firstReader = Arrays.copyOf(firstReader, room);
    Arrays.fill(firstReader, count, room, NONE);
    nextReader = Arrays.copyOf(nextReader, 2 * room);
    previousReader = Arrays.copyOf(previousReader, 2 * room);
    nextInBucket = Arrays.copyOf(nextInBucket, room);
    buckets = filled(room);
    for (int n = inputs + 1; n < count; n++) {
      if (isGate(n)) {
        enter(n);
      }
    }
  }

  private void enter(int gate) {
    int bucket = hash(left[gate], right[gate]);
    nextInBucket[gate] = buckets[bucket];
    buckets[bucket] = gate;
  }

  private void remove(int gate) {
    int bucket = hash(left[gate], right[gate]);
    if (buckets[bucket] == gate) {
      buckets[bucket] = nextInBucket[gate];
      return;
    }
    int before = buckets[bucket];
    while (nextInBucket[before] != gate) {
      before = nextInBucket[before];
    }
    nextInBucket[before] = nextInBucket[gate];
  }

  /** Sets the edges of a gate that has none. */
  private void connect(int gate, int low, int high) {
    left[gate] = low;
    right[gate] = high;
    read(2 * gate, low >> 1);
    read(2 * gate + 1, high >> 1);
    levels[gate] = 1 + Math.max(levels[low >> 1], levels[high >> 1]);
    enter(gate);
  }

  private void disconnect(int gate) {
    remove(gate);
    unread(2 * gate, left[gate] >> 1);
    unread(2 * gate + 1, right[gate] >> 1);
  }

  private void read(int edge, int node) {
    readers[node]++;
    nextReader[edge] = firstReader[node];
    previousReader[edge] = NONE;
    if (firstReader[node] != NONE) {
      previousReader[firstReader[node]] = edge;
    }
    firstReader[node] = edge;
  }

  private void unread(int edge, int node) {
    readers[node]--;
    if (previousReader[edge] == NONE) {
      firstReader[node] = nextReader[edge];
    } else {
      nextReader[previousReader[edge]] = nextReader[edge];
    }
    if (nextReader[edge] != NONE) {
      previousReader[nextReader[edge]] = previousReader[edge];
    }
  }

  /** Computes the level of a gate anew. */
  void settle(int gate) {
    levels[gate] = 1 + Math.max(levels[left[gate] >> 1], levels[right[gate] >> 1]);
  }

  /** Lets everything that reads a gate read a literal instead, which must not depend on it. */
  void replace(int gate, int literal) {
    readers[literal >> 1]++;
    readers[gate]++;
    for (int i = 0; readers[gate] > 1 && i < outputCount; i++) {
      if (outputs[i] >> 1 == gate) {
        outputs[i] = literal ^ outputs[i] & 1;
        readers[gate]--;
        readers[literal >> 1]++;
      }
    }
    while (firstReader[gate] != NONE) {
      int edge = firstReader[gate];
      int reader = edge >> 1;
      boolean isLeft = (edge & 1) == 0;
      int other = isLeft ? right[reader] : left[reader];
      int next = literal ^ (isLeft ? left[reader] : right[reader]) & 1;
      readers[other >> 1]++;
      disconnect(reader);
      left[reader] = UNREAD;
      int found = find(next, other);
      if (found == NONE) {
        connect(reader, Math.min(next, other), Math.max(next, other));
      } else {
        replace(reader, found);
      }
      release(other >> 1);
    }
    release(gate);
    if (left[gate] == UNREAD) {
      left[gate] = GONE;
      gates--;
    }
    release(literal >> 1);
  }

  private void release(int node) {
    if (--readers[node] == 0 && isGate(node)) {
      discard(node);
    }
  }

  /** Takes a gate that nothing reads out, with what nothing else reads. */
  void discard(int gate) {
    int a = left[gate] >> 1;
    int b = right[gate] >> 1;
    disconnect(gate);
    left[gate] = GONE;
    gates--;
    if (readers[a] == 0 && isGate(a)) {
      discard(a);
    }
    if (readers[b] == 0 && isGate(b)) {
      discard(b);
    }
  }

  /** Returns the gates that outputs need, each after those that it reads. */
  int[] order() {
    int[] result = new int[gates];
    int size = 0;
    byte[] state = new byte[count];
    int[] stack = new int[2 * count + 2];
    for (int i = 0; i < outputCount; i++) {
      int top = 0;
      stack[top++] = outputs[i] >> 1;
      while (top > 0) {
        int node = stack[top - 1];
        if (state[node] == 2 || !isGate(node)) {
          top--;
        } else if (state[node] == 1) {
          state[node] = 2;
          result[size++] = node;
          top--;
        } else {
          state[node] = 1;
          stack[top++] = right[node] >> 1;
          stack[top++] = left[node] >> 1;
        }
      }
    }
    return Arrays.copyOf(result, size);
  }

  /** Returns the graph of the gates that outputs need, numbered in order. */
  AndGraph clean() {
    AndGraph result = empty();
    int[] map = new int[count];
    for (int i = 1; i <= inputs; i++) {
      map[i] = 2 * i;
    }
    for (int gate : order()) {
      map[gate] = result.and(mapped(map, left[gate]), mapped(map, right[gate]));
    }
    for (int i = 0; i < outputCount; i++) {
      result.addOutput(mapped(map, outputs[i]));
    }
    return result;
  }

  static int mapped(int[] map, int literal) {
    return map[literal >> 1] ^ literal & 1;
  }
}

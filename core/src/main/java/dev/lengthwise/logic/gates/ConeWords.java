package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.words.PointWords;
import java.util.Arrays;
import org.jspecify.annotations.Nullable;

/** The function of a gate over nodes that determine it, as words of its points. */
final class ConeWords {

  private final AndGraph graph;
  private long @Nullable [][] known;
  private int[] touched = new int[64];
  private int count;
  private int words;

  ConeWords(AndGraph graph) {
    this.graph = graph;
    this.known = new long[graph.nodes()][];
  }

  /**
   * Returns the words of a node over leaves; fewer than six repeat within the word.
   *
   * @return null if the leaves do not determine the node, or its cone is very large
   */
  long @Nullable [] of(int node, int[] leaves) {
    words = leaves.length <= 6 ? 1 : 1 << (leaves.length - 6);
    if (known.length < graph.nodes()) {
      known = Arrays.copyOf(known, Math.max(graph.nodes(), 2 * known.length));
    }
    count = 0;
    for (int i = 0; i < leaves.length; i++) {
      long[] variable = new long[words];
      for (int w = 0; w < words; w++) {
        variable[w] = PointWords.variable(i, w);
      }
      set(leaves[i], variable);
    }
    long @Nullable [] result = compute(node);
    for (int i = 0; i < count; i++) {
      known[touched[i]] = null;
    }
    return result;
  }

  private void set(int node, long[] value) {
    if (count == touched.length) {
      touched = Arrays.copyOf(touched, 2 * count);
    }
    touched[count++] = node;
    known[node] = value;
  }

  private long @Nullable [] compute(int node) {
    if (known[node] != null) {
      return known[node];
    }
    if (!graph.isGate(node)) {
      return null;
    }
    long[] a = compute(graph.left(node) >> 1);
    long[] b = a == null ? null : compute(graph.right(node) >> 1);
    if (b == null) {
      return null;
    }
    long flipA = -(graph.left(node) & 1L);
    long flipB = -(graph.right(node) & 1L);
    long[] result = new long[words];
    for (int w = 0; w < words; w++) {
      result[w] = (a[w] ^ flipA) & (b[w] ^ flipB);
    }
    set(node, result);
    return result;
  }
}

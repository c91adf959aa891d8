package dev.lengthwise.logic.network;

import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jgrapht.Graph;
import org.jgrapht.alg.matching.SparseEdmondsMaximumCardinalityMatching;
import org.jgrapht.graph.DefaultEdge;
import org.jgrapht.graph.SimpleGraph;

/**
 * An assignment of LUTs to sites of which each serves one LUT, or two that together read few
 * distinct signals. Pairs come from a maximum matching, so no packing under that rule takes fewer
 * sites.
 */
public final class Packing {

  /**
   * One site.
   *
   * @param luts the indices of the one or two LUTs it serves, ascending
   */
  public record Site(List<Integer> luts) {

    /**
     * Checks that there are one or two.
     *
     * @param luts see Site
     */
    public Site {
      luts = List.copyOf(luts);
      if (luts.isEmpty() || luts.size() > 2) {
        throw new IllegalArgumentException(
            "site: must serve one or two luts, found " + luts.size());
      }
    }
  }

  private final List<Site> sites;

  private Packing(List<Site> sites) {
    this.sites = List.copyOf(sites);
  }

  /**
   * Packs a network into as few sites as can be.
   *
   * @param network the network
   * @param pairInputs the most distinct signals that two LUTs of one site may read together; 0 if a
   *     site serves one LUT only
   * @return the packing
   * @throws IllegalArgumentException if {@code pairInputs} is negative
   */
  public static Packing of(LutNetwork network, int pairInputs) {
    return of(network, pairInputs, WideMuxes.none());
  }

  /**
   * Packs a network into as few sites as can be, where multiplexers stand in for some LUTs.
   *
   * @param network the network
   * @param pairInputs the most distinct signals that two LUTs of one site may read together; 0 if a
   *     site serves one LUT only
   * @param muxes the multiplexers; the LUTs they stand in for take no site, those that feed them a
   *     site of their own
   * @return the packing
   * @throws IllegalArgumentException if {@code pairInputs} is negative
   */
  public static Packing of(LutNetwork network, int pairInputs, WideMuxes muxes) {
    if (pairInputs < 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT, "packing: pair inputs must not be negative, found %d", pairInputs));
    }
    if (network.luts().isEmpty()) {
      return new Packing(List.of());
    }
    int count = network.luts().size();
    boolean[] paired = new boolean[count];
    Graph<Integer, DefaultEdge> graph = pairs(network, pairInputs, muxes);
    List<Site> sites = new ArrayList<>();
    for (DefaultEdge edge :
        new SparseEdmondsMaximumCardinalityMatching<>(graph).getMatching().getEdges()) {
      int a = graph.getEdgeSource(edge);
      int b = graph.getEdgeTarget(edge);
      paired[a] = true;
      paired[b] = true;
      sites.add(new Site(List.of(Math.min(a, b), Math.max(a, b))));
    }
    for (int i = 0; i < count; i++) {
      if (!paired[i] && !muxes.replaces(i)) {
        sites.add(new Site(List.of(i)));
      }
    }
    sites.sort(Comparator.comparing(site -> site.luts().get(0)));
    return new Packing(sites);
  }

  /** Connects every two LUTs that one site can serve. */
  private static Graph<Integer, DefaultEdge> pairs(
      LutNetwork network, int pairInputs, WideMuxes muxes) {
    Graph<Integer, DefaultEdge> graph = new SimpleGraph<>(DefaultEdge.class);
    Map<Integer, int[]> before = new LinkedHashMap<>();
    for (int i = 0; i < network.luts().size(); i++) {
      Work.check();
      int lut = i;
      graph.addVertex(lut);
      int[] own = network.luts().get(lut).fanIns().stream().mapToInt(s -> s).toArray();
      if (own.length <= pairInputs && !muxes.replaces(lut) && !muxes.isFedBy(lut)) {
        before.forEach(
            (other, fanIns) -> {
              if (union(fanIns, own) <= pairInputs) {
                graph.addEdge(other, lut);
              }
            });
        before.put(lut, own);
      }
    }
    return graph;
  }

  /** Returns how many distinct signals two ascending rows have together. */
  private static int union(int[] a, int[] b) {
    int both = 0;
    int inB = 0;
    for (int signal : a) {
      while (inB < b.length && b[inB] < signal) {
        inB++;
      }
      if (inB < b.length && b[inB] == signal) {
        both++;
      }
    }
    return a.length + b.length - both;
  }

  /**
   * Returns the sites, ordered by their first LUT.
   *
   * @return an immutable list
   */
  public List<Site> sites() {
    return sites;
  }

  @Override
  public boolean equals(Object other) {
    return other instanceof Packing that && sites.equals(that.sites);
  }

  @Override
  public int hashCode() {
    return sites.hashCode();
  }

  @Override
  public String toString() {
    return "packing of " + sites.size() + " sites";
  }
}

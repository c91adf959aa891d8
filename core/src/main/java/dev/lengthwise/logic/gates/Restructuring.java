package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * Covers gates with LUTs after it has changed their structure for few levels and few LUTs; tables
 * too, by gates made for them.
 *
 * <p>The same call gives the same network. A network of some thousand gates takes about a second.
 */
public final class Restructuring {

  /** As many arrivals as a model of delays has. */
  private static final int ANY = -1;

  private final int lutInputs;
  private final Objective objective;
  private final int mostDelay;
  private final DelayModel delays;
  private final int arrivals;
  private final boolean factors;

  private Restructuring(
      int lutInputs, Goal goal, DelayModel delays, int arrivals, boolean factors) {
    this.lutInputs = lutInputs;
    this.objective = goal.objective();
    this.mostDelay = goal.mostDelay();
    this.delays = delays;
    this.arrivals = arrivals;
    this.factors = factors;
  }

  private record Goal(Objective objective, int mostDelay) {}

  private Goal goal() {
    return new Goal(objective, mostDelay);
  }

  /**
   * Returns one for LUTs of a size: area first, in the model of levels, without a bound on them.
   *
   * @param lutInputs the inputs of a LUT, in [3, 8]
   * @return the restructuring
   * @throws IllegalArgumentException if that is out of range
   */
  public static Restructuring forInputs(int lutInputs) {
    if (lutInputs < 3 || lutInputs > LutNetwork.MOST_FAN_INS) {
      throw new IllegalArgumentException(
          "restructuring: the inputs of a lut must be in [3, 8], found " + lutInputs);
    }
    Goal area = new Goal(Objective.AREA, CoverSearch.UNBOUNDED);
    return new Restructuring(lutInputs, area, DelayModel.LEVELS, ANY, false);
  }

  /**
   * Returns one with another objective.
   *
   * @param value what to minimise first
   * @return the restructuring
   */
  public Restructuring withObjective(Objective value) {
    Objects.requireNonNull(value, "objective");
    return new Restructuring(lutInputs, new Goal(value, mostDelay), delays, arrivals, factors);
  }

  /**
   * Returns one that prefers every network within a bound on delay to any beyond it.
   *
   * @param value the most levels, at least 1, or what they are in the unit of the delays
   * @return the restructuring
   * @throws IllegalArgumentException if the bound is below 1
   */
  public Restructuring withMostDelay(int value) {
    if (value < 1) {
      throw new IllegalArgumentException(
          "restructuring: the most delay must be at least 1, found " + value);
    }
    Goal within = new Goal(objective, Math.min(value, CoverSearch.UNBOUNDED));
    return new Restructuring(lutInputs, within, delays, arrivals, factors);
  }

  /**
   * Returns one that counts depth by what signals take. What further readers take does not count in
   * it: how many there are is not known before the gates are covered.
   *
   * @param value the delays, the arrivals of inputs and what outputs are needed at
   * @return the restructuring
   */
  public Restructuring withDelays(DelayModel value) {
    return new Restructuring(lutInputs, goal(), value, ANY, factors);
  }

  /**
   * Returns one for inputs that come later than others.
   *
   * @param levels the level at which each input is there, in the order of the inputs, at least 0,
   *     or what it is in the unit of the delays
   * @return the restructuring
   * @throws IllegalArgumentException if a level is below 0
   */
  public Restructuring withArrivals(int... levels) {
    for (int level : levels) {
      if (level < 0) {
        throw new IllegalArgumentException(
            "restructuring: an input must come at a level of at least 0, found " + level);
      }
    }
    return new Restructuring(
        lutInputs, goal(), delays.withArrivals(levels), levels.length, factors);
  }

  /**
   * Returns one that works more on gates as circuits have them, far from small: it also factors the
   * functions of large cones, and looks for points at which signals differ that diagrams cannot
   * tell apart. It takes about twice as long.
   *
   * @return the restructuring
   */
  public Restructuring withFactoring() {
    return new Restructuring(lutInputs, goal(), delays, arrivals, true);
  }

  /**
   * Covers gates.
   *
   * @param gates the gates
   * @return a network with the same inputs, outputs and functions
   * @throws IllegalArgumentException if arrivals are given, but not as many as inputs
   */
  public LutNetwork map(LutNetwork gates) {
    CoverSearch search = search(gates.inputNames().size());
    search.run(search.graph(gates));
    List<String> outputs = gates.outputs().stream().map(LutNetwork.Output::name).toList();
    return search.best().network(gates.inputNames(), outputs);
  }

  /**
   * Returns when outputs can be there, each for itself, if gates keep the structure that they have.
   *
   * @param gates the gates
   * @return the level of each output, in their order; 0 for a constant
   * @throws IllegalArgumentException if arrivals are given, but not as many as inputs
   */
  public int[] levelsOf(LutNetwork gates) {
    AndGraph graph = search(gates.inputNames().size()).graph(gates).clean();
    return CutCover.levels(graph, lutInputs, delays);
  }

  /**
   * Covers gates made for tables.
   *
   * @param function what to map
   * @return a network that agrees with the function at every point that matters
   * @throws IllegalArgumentException if arrivals are given, but not as many as inputs
   */
  public LutNetwork map(TruthTables function) {
    CoverSearch search = search(function.inputs());
    search.graphs(function).forEach(search::run);
    return search.best().network(function.inputNames(), function.outputNames());
  }

  private CoverSearch search(int inputs) {
    if (arrivals != ANY && arrivals != 0 && arrivals != inputs) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "restructuring: an arrival for each of %d inputs is expected, found %d",
              inputs,
              arrivals));
    }
    CoverSearch search = new CoverSearch(lutInputs, objective, mostDelay, delays);
    return factors ? search.factoring() : search;
  }
}

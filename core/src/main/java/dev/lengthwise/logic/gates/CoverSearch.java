package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.work.Work;
import java.util.Comparator;
import java.util.List;
import java.util.Objects;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;

/** Changes the structure of graphs step by step, covers what each step leaves, keeps the best. */
final class CoverSearch {

  /** The ANDs that a level of LUTs is taken for where inputs are late. */
  private static final int ANDS_A_LEVEL = 3;

  /** A bound on levels that is none. */
  static final int UNBOUNDED = Integer.MAX_VALUE / 4;

  private static final int ROUNDS = 3;

  /** A graph of more gates gets fewer rounds, so that it takes seconds. */
  private static final int LARGE = 3_000;

  private static final int MOST_FAST = 10;

  private final int lutInputs;
  private final Objective objective;
  private final int mostDelay;
  private final DelayModel delays;
  private final Forms forms = new Forms();
  private @Nullable LutCover best;
  private boolean factors;

  CoverSearch(int lutInputs, Objective objective, int mostDelay, DelayModel delays) {
    this.lutInputs = lutInputs;
    this.objective = objective;
    this.mostDelay = mostDelay;
    this.delays = delays;
  }

  /** Lets the search factor large cones too, and search for points at which signals differ. */
  CoverSearch factoring() {
    factors = true;
    return this;
  }

  /** Returns the graph of gates. */
  AndGraph graph(LutNetwork gates) {
    return GateGraph.of(gates, ands(gates.inputNames().size()), forms);
  }

  /** Returns graphs made for tables. */
  List<AndGraph> graphs(TruthTables function) {
    return List.of(
        SharedChoices.of(function, ands(function.inputs()), true),
        SharedChoices.of(function, ands(function.inputs()), false));
  }

  /** Returns the ANDs that each input comes behind. */
  private int[] ands(int inputs) {
    return IntStream.range(0, inputs)
        .map(input -> delays.arrival(input) * ANDS_A_LEVEL / delays.level())
        .toArray();
  }

  /** Returns the best cover of all runs. */
  LutCover best() {
    return Objects.requireNonNull(best, "best");
  }

  void run(AndGraph start) {
    AndGraph graph = start.clean();
    boolean large = graph.gates() > LARGE;
    offer(graph);
    graph = EqualSignals.merged(graph, factors);
    if (!large) {
      SharedSums.of(graph).forEach(this::offer);
    }
    for (int round = 0; round < (large ? 1 : ROUNDS); round++) {
      graph = Balancing.of(graph);
      offerIf(!large, graph);
      graph = rewritten(graph, new ConeRewriting.Settings(4, 12, round % 2 == 1, false));
      offerIf(!large, graph);
      if (factors) {
        graph = Refactoring.of(graph, round > 0);
        offerIf(!large, graph);
        graph = rewritten(graph, new ConeRewriting.Settings(4, 12, true, false));
      }
      graph = rewritten(graph, new ConeRewriting.Settings(6, 8, false, false));
      offer(graph);
    }
    if (!large && (objective == Objective.DEPTH || mostDelay < UNBOUNDED)) {
      faster(graph);
    }
  }

  /** Wins levels, and then gates within them. */
  private void faster(AndGraph small) {
    AndGraph graph = small;
    for (int round = 0; round < MOST_FAST; round++) {
      int before = levels(graph);
      graph = Balancing.of(rewritten(graph, new ConeRewriting.Settings(6, 12, false, true)));
      offer(graph);
      if (levels(graph) >= before) {
        break;
      }
    }
    for (int round = 0; round < ROUNDS; round++) {
      graph = rewritten(graph, new ConeRewriting.Settings(4 + round % 2, 10, round == 0, false));
      offer(graph);
    }
  }

  private static int levels(AndGraph graph) {
    int levels = 0;
    for (int i = 0; i < graph.outputs(); i++) {
      levels = Math.max(levels, graph.level(graph.output(i) >> 1));
    }
    return levels;
  }

  private AndGraph rewritten(AndGraph graph, ConeRewriting.Settings settings) {
    return ConeRewriting.of(graph, forms, settings);
  }

  private void offerIf(boolean wanted, AndGraph graph) {
    if (wanted) {
      offer(graph);
    }
  }

  private void offer(AndGraph graph) {
    Work.check();
    int bound = objective == Objective.DEPTH ? 0 : mostDelay;
    LutCover cover = CutCover.of(graph, lutInputs, delays, bound);
    if (best == null || order().compare(cover, best) < 0) {
      best = cover;
    }
  }

  private Comparator<LutCover> order() {
    Comparator<LutCover> luts = Comparator.comparingInt(LutCover::luts);
    Comparator<LutCover> delay = Comparator.comparingInt(LutCover::delay);
    Comparator<LutCover> excess =
        Comparator.comparingInt(cover -> Math.max(0, cover.delay() - mostDelay));
    return excess.thenComparing(
        objective == Objective.DEPTH ? delay.thenComparing(luts) : luts.thenComparing(delay));
  }
}

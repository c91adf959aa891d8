package dev.lengthwise.logic.map;

import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.decompose.Decomposer;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.gates.Restructuring;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.rewrite.EditableNetwork;
import dev.lengthwise.logic.rewrite.Resubstitution;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.SplittableRandom;

/**
 * The networks from which a mapping of a table starts, by kind, each made from draws of its own.
 */
final class Starts {

  /** What makes a network. */
  interface Maker {
    LutNetwork make(SplittableRandom draws);
  }

  /** Where levels count, one decomposition of so many is a sum of products instead. */
  private static final int STARTS_A_FLAT_ONE = 3;

  /** In a bound on levels more starts are made, as few are flat enough. */
  private static final int STARTS_IN_BOUND = 3;

  private final TruthTables function;
  private final MapperSettings settings;
  private final int mostDelay;
  private final Optional<LutNetwork> gates;

  Starts(TruthTables function, MapperSettings settings, int mostDelay, Optional<LutNetwork> gates) {
    this.function = function;
    this.settings = settings;
    this.mostDelay = mostDelay;
    this.gates = gates;
  }

  /** Returns the starts of the table alone, as its columns and products have it. */
  List<Maker> decompositions() {
    List<Maker> makers = new ArrayList<>();
    int starts = settings.effort().starts() * (isBounded() ? STARTS_IN_BOUND : 1);
    for (int i = 0; i < starts; i++) {
      int number = i;
      makers.add(draws -> shrink(decomposed(number, draws), number, draws));
    }
    return makers;
  }

  /** Returns the starts from gates made for the table. */
  List<Maker> madeGates() {
    return restructured(restructuring -> restructuring.map(function), isFlat());
  }

  /** Returns the starts from the caller's gates. */
  List<Maker> givenGates() {
    return gates
        .map(network -> restructured(restructuring -> restructuring.map(network), true))
        .orElse(List.of());
  }

  private boolean isBounded() {
    return mostDelay != Integer.MAX_VALUE;
  }

  private boolean isFlat() {
    return settings.objective() == Objective.DEPTH || isBounded();
  }

  private interface Cover {
    LutNetwork of(Restructuring restructuring);
  }

  private List<Maker> restructured(Cover cover, boolean flat) {
    Restructuring restructuring =
        Restructuring.forInputs(settings.lutInputs()).withDelays(settings.delays());
    List<Maker> makers = new ArrayList<>();
    Restructuring within = isBounded() ? restructuring.withMostDelay(mostDelay) : restructuring;
    makers.add(draws -> shrink(cover.of(within), 0, draws));
    if (flat) {
      Restructuring levels = restructuring.withObjective(Objective.DEPTH);
      makers.add(draws -> shrink(cover.of(levels), 0, draws));
    }
    return makers;
  }

  private LutNetwork decomposed(int number, SplittableRandom random) {
    if (isFlat()
        && number % STARTS_A_FLAT_ONE == 1
        && ProductSum.fits(function.inputs(), settings.lutInputs())) {
      return ProductSum.build(function, settings.lutInputs(), new Random(random.nextLong()));
    }
    LutNetworkBuilder builder = LutNetwork.builder(function.inputNames());
    int[] signals = new int[function.inputs()];
    for (int i = 0; i < signals.length; i++) {
      signals[i] = i;
    }
    Decomposer decomposer =
        new Decomposer(
            settings.lutInputs(),
            new Decomposer.Annealing(
                settings.effort().annealMoves(), settings.effort().annealTries(), random),
            builder,
            number == 0 ? 0.0 : 1.0);
    int[] made = decomposer.build(function.outputs(), signals);
    for (int o = 0; o < made.length; o++) {
      builder.output(function.outputNames().get(o), made[o]);
    }
    return builder.build();
  }

  private LutNetwork shrink(LutNetwork network, int spare, SplittableRandom random) {
    EditableNetwork net =
        new EditableNetwork(network, function.outputs(), 0).timedBy(settings.delays());
    int delay = settings.delays().delay(network);
    // Plateau walks drift into depth that buys nothing, so area gets only a few levels to trade.
    int bound = delay + (settings.objective() == Objective.DEPTH ? 0 : settings.delayOf(spare % 3));
    if (isBounded()) {
      bound = Math.max(Math.min(bound, mostDelay), delay);
    }
    // Larger tables take longer for each step; the work stays about the same.
    Effort effort = settings.effort();
    int steps = Math.max(200, effort.steps() / Math.max(1, net.words / 8));
    new Resubstitution(net, settings.lutInputs(), bound, random).run(steps);
    return net.toNetwork(function.inputNames(), function.outputNames());
  }
}

package dev.lengthwise.logic.gates;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Gates for tables: a choice by one input after another, the same for all outputs, in which
 * functions that are equal, complements, or may be, are made once.
 *
 * <p>The next input is the one that leaves the fewest functions of the fewest inputs. Points that
 * do not matter are filled so that an input need not be asked, or that two functions become one.
 */
final class SharedChoices {

  /** The functions looked at for one that may be the same. */
  private static final int MOST_COMPARED = 300;

  /** A choice: the literals over the functions that remain when the input is 0 and 1. */
  private static final class Choice {
    private final int input;
    private final int[] zero;
    private final int[] one;

    Choice(int input, int[] zero, int[] one) {
      this.input = input;
      this.zero = zero;
      this.one = one;
    }
  }

  private final List<Integer> left = new ArrayList<>();
  private final List<Choice> choices = new ArrayList<>();
  private final boolean byInputs;

  private SharedChoices(boolean byInputs) {
    this.byInputs = byInputs;
  }

  /** The functions of a level, found again by their tables; literals as in {@link AndGraph}. */
  private static final class Level {
    private final List<PartialFunction> functions = new ArrayList<>();
    private final Map<PartialFunction, Integer> known = new HashMap<>();

    int add(PartialFunction function) {
      if (function.isZero()) {
        return AndGraph.FALSE;
      }
      if (function.isOne()) {
        return AndGraph.TRUE;
      }
      int odd = function.startsWithOne() ? 1 : 0;
      PartialFunction even = odd == 1 ? function.complement() : function;
      Integer found = known.get(even);
      if (found != null) {
        return found ^ odd;
      }
      int literal = similar(even);
      if (literal < 0) {
        functions.add(even);
        literal = 2 * functions.size();
      }
      known.put(even, literal);
      return literal ^ odd;
    }

    /** Joins a function with one that may be the same, if there is one. */
    private int similar(PartialFunction even) {
      PartialFunction opposite = even.complement();
      boolean complete = even.isComplete();
      for (int i = 0; i < Math.min(functions.size(), MOST_COMPARED); i++) {
        PartialFunction other = functions.get(i);
        if (complete && other.isComplete()) {
          continue;
        }
        if (other.agrees(even) || other.agrees(opposite)) {
          boolean same = other.agrees(even);
          functions.set(i, other.joined(same ? even : opposite));
          return 2 * (i + 1) ^ (same ? 0 : 1);
        }
      }
      return -1;
    }
  }

  /** Returns a graph whose outputs are the tables. */
  static AndGraph of(TruthTables function, int[] arrivals, boolean byInputs) {
    SharedChoices shared = new SharedChoices(byInputs);
    for (int i = 0; i < function.inputs(); i++) {
      shared.left.add(i);
    }
    Level level = new Level();
    List<Integer> outputs = new ArrayList<>();
    for (TruthTable table : function.outputs()) {
      outputs.add(
          level.add(new PartialFunction(table.inputs(), table.onWords(), table.careWords())));
    }
    while (!level.functions.isEmpty()) {
      Work.check();
      level = shared.choose(level);
    }
    AndGraph graph = new AndGraph(arrivals);
    int[] literals = shared.build(graph);
    outputs.forEach(output -> graph.addOutput(AndGraph.mapped(literals, output)));
    return graph.clean();
  }

  /** Builds from the last choice to the first, and returns the literals of the first functions. */
  private int[] build(AndGraph graph) {
    int[] below = {0};
    for (int c = choices.size() - 1; c >= 0; c--) {
      Choice choice = choices.get(c);
      int[] own = new int[choice.zero.length + 1];
      for (int i = 0; i < choice.zero.length; i++) {
        own[i + 1] =
            graph.mux(
                2 * (choice.input + 1),
                AndGraph.mapped(below, choice.one[i]),
                AndGraph.mapped(below, choice.zero[i]));
      }
      below = own;
    }
    return below;
  }

  /** Asks an input of all functions of a level and returns those that remain. */
  private Level choose(Level level) {
    int place = next(level);
    Level rest = new Level();
    int count = level.functions.size();
    int[] zero = new int[count];
    int[] one = new int[count];
    for (int i = 0; i < count; i++) {
      PartialFunction whenZero = level.functions.get(i).cofactor(place, false);
      PartialFunction whenOne = level.functions.get(i).cofactor(place, true);
      if (whenZero.agrees(whenOne)) {
        zero[i] = rest.add(whenZero.joined(whenOne));
        one[i] = zero[i];
      } else {
        zero[i] = rest.add(whenZero);
        one[i] = rest.add(whenOne);
      }
    }
    choices.add(new Choice(left.remove(place), zero, one));
    return rest;
  }

  private int next(Level level) {
    int best = 0;
    long least = Long.MAX_VALUE;
    for (int place = left.size() - 1; place >= 0; place--) {
      long cost = cost(level, place);
      if (cost < least) {
        least = cost;
        best = place;
      }
    }
    return best;
  }

  private long cost(Level level, int place) {
    Set<PartialFunction> rest = new HashSet<>();
    long cost = 0;
    for (PartialFunction function : level.functions) {
      PartialFunction zero = function.cofactor(place, false);
      PartialFunction one = function.cofactor(place, true);
      if (zero.agrees(one)) {
        cost += even(zero.joined(one), rest);
      } else {
        cost += even(zero, rest) + even(one, rest) + 1;
      }
    }
    return cost;
  }

  private long even(PartialFunction function, Set<PartialFunction> rest) {
    if (function.isZero() || function.isOne()) {
      return 0;
    }
    if (!rest.add(function.startsWithOne() ? function.complement() : function)) {
      return 0;
    }
    long cost = 2;
    for (int input = 0; byInputs && input < function.inputs(); input++) {
      cost += function.dependsOn(input) ? 2 : 0;
    }
    return cost;
  }
}

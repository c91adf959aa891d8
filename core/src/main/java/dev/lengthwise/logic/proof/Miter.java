package dev.lengthwise.logic.proof;

import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.sat.Sat;
import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;

/** Two networks with common inputs, and the question whether some output can differ. */
final class Miter {

  private final LutNetwork one;
  private final LutNetwork other;
  private final Sat sat = Sat.create();
  private final int[] inputs;
  private final int constantOne;

  Miter(LutNetwork one, LutNetwork other) {
    this.one = one;
    this.other = other;
    this.inputs = new int[one.inputNames().size()];
    for (int i = 0; i < inputs.length; i++) {
      inputs[i] = sat.newVariable();
    }
    constantOne = sat.newVariable();
    sat.addClause(constantOne);
  }

  Proof solve(int conflicts) {
    int[] a = literals(one);
    int[] b = literals(other);
    List<Integer> differences = new ArrayList<>();
    for (int o = 0; o < a.length; o++) {
      int difference = sat.newVariable();
      sat.addClause(-difference, a[o], b[o]);
      sat.addClause(-difference, -a[o], -b[o]);
      sat.addClause(difference, -a[o], b[o]);
      sat.addClause(difference, a[o], -b[o]);
      differences.add(difference);
    }
    sat.addClause(differences.stream().mapToInt(Integer::intValue).toArray());
    Sat.Verdict verdict = sat.solve(conflicts);
    if (verdict != Sat.Verdict.SATISFIABLE) {
      return Proof.solved(verdict);
    }
    int wrong = 0;
    while (!sat.value(differences.get(wrong))) {
      wrong++;
    }
    long point = 0;
    for (int i = 0; i < inputs.length && i < 63; i++) {
      point |= sat.value(inputs[i]) ? 1L << i : 0L;
    }
    return Proof.differs(
        "satisfiability",
        0,
        inputs.length <= 63 ? OptionalLong.of(point) : OptionalLong.empty(),
        one.outputs().get(wrong).name());
  }

  /** Adds a network's clauses and returns the literal of each output. */
  private int[] literals(LutNetwork network) {
    List<Integer> signals = new ArrayList<>();
    for (int input : inputs) {
      signals.add(input);
    }
    for (LutNetwork.Lut lut : network.luts()) {
      int variable = sat.newVariable();
      int pins = lut.fanIns().size();
      for (int point = 0; point < 1 << pins; point++) {
        int[] clause = new int[pins + 1];
        for (int k = 0; k < pins; k++) {
          int pin = signals.get(lut.fanIns().get(k));
          clause[k] = (point >> k & 1) != 0 ? -pin : pin;
        }
        clause[pins] = lut.table().isOn(point) ? variable : -variable;
        sat.addClause(clause);
      }
      signals.add(variable);
    }
    return network.outputs().stream()
        .mapToInt(
            output ->
                output.signal() == LutNetwork.ONE
                    ? constantOne
                    : output.signal() == LutNetwork.ZERO
                        ? -constantOne
                        : signals.get(output.signal()))
        .toArray();
  }
}

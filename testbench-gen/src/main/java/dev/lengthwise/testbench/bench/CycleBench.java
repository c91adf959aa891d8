package dev.lengthwise.testbench.bench;

import dev.lengthwise.testbench.cycle.CycleFields;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The self-checking bench of a clocked design: what stands in it, field by field. A language says
 * how each part reads, and the text around them.
 */
abstract class CycleBench {

  final CycleFields fields;
  private final String design;
  private final String template;
  private final BenchNames names;
  private final Map<String, Integer> low;

  /**
   * Takes the words of the language's text.
   *
   * @param template the text, with the markers that {@link #text} fills
   * @param prefix what the signals at ports begin with
   */
  CycleBench(String design, CycleFields fields, String template, String prefix) {
    this.design = design;
    this.fields = fields;
    this.template = template;
    this.names = new BenchNames(design, template, fields.counters().size(), prefix);
    this.low = fields.lowBits();
  }

  /** Declares the signal at an input of the design. */
  abstract String drivenSignal(String signal, int width);

  /** Declares the signal at an output of the design. */
  abstract String readSignal(String signal, int width);

  /** Connects a port that is not the first. */
  abstract String connection(String port, String signal);

  /** Gives an input its value. */
  abstract String assignment(String signal, String value);

  /** Compares an output where its check asks for it. */
  abstract String comparison(CycleFields.Output output, String signal);

  /** Declares a counter. */
  abstract String counter(int number);

  /** Counts a cycle in which all terms hold. */
  abstract String count(int number, List<String> terms);

  /** Prints a counter. */
  abstract String report(int number, String label);

  /** Returns the term that a bit of the checks is 1. */
  abstract String isChecked(int bit);

  /** Returns the term that a signal is 1, or that it is 0. */
  abstract String is(String signal, boolean one);

  /** Returns some bits of the cycle's word. */
  abstract String bits(int from, int width);

  /** Returns what only this language's text asks for, by marker. */
  abstract Map<String, String> own();

  /** Returns the field of a port, or of the checks. */
  final String field(String port, int width) {
    return bits(low.get(port), width);
  }

  final int checksFrom() {
    return low.get(CycleFields.CHECKS);
  }

  /** Returns the bench. */
  final String text() {
    StringBuilder declarations = new StringBuilder();
    StringBuilder ports = new StringBuilder();
    StringBuilder assignments = new StringBuilder();
    StringBuilder comparisons = new StringBuilder();
    for (CycleFields.Input input : fields.inputs()) {
      String signal = names.of(input.port());
      declarations.append(drivenSignal(signal, input.width()));
      ports.append(connection(input.port(), signal));
      assignments.append(assignment(signal, field(input.port(), input.width())));
    }
    for (CycleFields.Output output : fields.outputs()) {
      String signal = names.of(output.port());
      declarations.append(readSignal(signal, output.width()));
      ports.append(connection(output.port(), signal));
      comparisons.append(comparison(output, signal));
    }
    StringBuilder counters = new StringBuilder();
    StringBuilder counts = new StringBuilder();
    StringBuilder reports = new StringBuilder();
    for (int i = 0; i < fields.counters().size(); i++) {
      counters.append(counter(i));
      counts.append(count(i, terms(fields.counters().get(i))));
      reports.append(report(i, fields.counters().get(i).label()));
    }
    Map<String, String> filled = new LinkedHashMap<>(own());
    filled.put("@NAME@", design);
    filled.put("@DECLARATIONS@", declarations.toString());
    filled.put("@PORTS@", ports.toString());
    filled.put("@ASSIGNMENTS@", assignments.toString());
    filled.put("@COMPARISONS@", comparisons.toString());
    filled.put("@COUNTERS@", counters.toString());
    filled.put("@COUNTS@", counts.toString());
    filled.put("@REPORTS@", reports.toString());
    return Markers.filled(template, filled);
  }

  private List<String> terms(CycleFields.Counter counter) {
    List<String> terms = new ArrayList<>();
    if (counter.check() >= 0) {
      terms.add(isChecked(counter.check()));
    }
    counter.ones().forEach(port -> terms.add(is(names.of(port), true)));
    counter.zeros().forEach(port -> terms.add(is(names.of(port), false)));
    return terms;
  }
}

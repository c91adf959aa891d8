package dev.lengthwise.testbench.bench;

import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testbench.vector.VectorKind;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The self-checking bench of a lane: what stands in it, mode by mode and kind of vector by kind. A
 * language says how each part reads, and the text around them.
 */
abstract class LaneBench {

  static final int KINDS = VectorKind.values().length;

  final Design design;
  final List<String> modes;
  private final LaneVectors vectors;
  private final String template;
  private final BenchNames names;

  /** Takes the words of the language's text, whose markers {@link #text} fills. */
  LaneBench(Design design, LaneVectors vectors, String template) {
    this.design = design;
    this.modes = design.lane().instructionSet().table().modes();
    this.vectors = vectors;
    this.template = template;
    this.names = new BenchNames(design.name(), template, 0, "dut_");
  }

  /** Declares the signal of a mode. */
  abstract String declaration(String signal);

  /** Connects a mode. */
  abstract String connection(String mode, String signal);

  /** Gives a mode its value, a bit of the vector's modes. */
  abstract String assignment(String signal, int bit);

  /** Prints how many vectors of a kind ran. */
  abstract String coverage(String label, int kind, int of);

  /** Returns what only this language's text asks for, by marker. */
  abstract Map<String, String> own();

  /** Returns the signal of a mode. */
  final String signal(String mode) {
    return names.of(mode);
  }

  final int wordBits() {
    return vectors.wordBits();
  }

  final int codeBits() {
    return 8 * (1 + design.lane().lookahead());
  }

  final int lengthBits() {
    return design.lane().lengthBits();
  }

  /** Returns the bench. */
  final String text() {
    StringBuilder declarations = new StringBuilder();
    StringBuilder ports = new StringBuilder();
    StringBuilder assignments = new StringBuilder();
    for (int i = 0; i < modes.size(); i++) {
      String signal = signal(modes.get(i));
      declarations.append(declaration(signal));
      ports.append(connection(modes.get(i), signal));
      assignments.append(assignment(signal, i));
    }
    StringBuilder coverage = new StringBuilder();
    int kind = 0;
    for (Map.Entry<VectorKind, Integer> entry : vectors.counts().entrySet()) {
      coverage.append(coverage(entry.getKey().label(), kind++, entry.getValue()));
    }
    Map<String, String> filled = new LinkedHashMap<>(own());
    filled.put("@NAME@", design.name());
    filled.put("@COUNT@", Integer.toString(vectors.vectors().size()));
    filled.put("@KINDS@", Integer.toString(KINDS - 1));
    filled.put("@DECLARATIONS@", declarations.toString());
    filled.put("@PORTS@", ports.toString());
    filled.put("@ASSIGNMENTS@", assignments.toString());
    filled.put("@COVERAGE@", coverage.toString());
    return Markers.filled(template, filled);
  }
}

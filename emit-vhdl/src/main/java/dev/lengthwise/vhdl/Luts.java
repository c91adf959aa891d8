package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.LutBlock;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Writes the LUTs of a block in the form of the options. */
final class Luts {

  private final EmissionPlan plan;
  private final Expressions expressions;
  private final VhdlOptions.LutForm form;
  private final LutInputs inputs;
  private final Optional<LutComponents> components;

  Luts(EmissionPlan plan, Expressions expressions, VhdlOptions.LutForm form) {
    this.plan = plan;
    this.expressions = expressions;
    this.form = form;
    this.inputs = new LutInputs(plan, expressions);
    this.components =
        form instanceof VhdlOptions.LutComponent component
            ? Optional.of(new LutComponents(plan, inputs, component))
            : Optional.empty();
  }

  /** Adds a LUT. */
  void write(int place, Node.Lookup lut, TextSink sink) {
    if (components.isPresent()) {
      components.get().write(place, lut, sink);
    } else if (form instanceof VhdlOptions.LutBlock) {
      writeInstance(place, lut, sink);
    } else {
      String target = plan.name(place).orElseThrow();
      Lines.add(sink, target + " <= " + expressions.lut(lut).text() + ";");
    }
  }

  private void writeInstance(int place, Node.Lookup lut, TextSink sink) {
    String target = plan.name(place).orElseThrow();
    int count = lut.contents().addressBits();
    List<String> ports = new ArrayList<>(List.of(target));
    ports.addAll(point(lut, target, sink));
    String table = Literals.vector(lut.contents().truthTable(count), 1 << count);
    String generics = " generic map (" + count + ", " + table + ")";
    Lines.addTwo(
        sink,
        plan.cellName(place) + " : entity work." + plan.lutBlock() + generics,
        "port map (" + String.join(", ", ports) + ");");
  }

  /** Returns what the inputs are connected to; no port map may hold a concatenation. */
  private List<String> point(Node.Lookup lut, String target, TextSink sink) {
    int count = lut.contents().addressBits();
    List<String> parts = new ArrayList<>();
    for (int at = 0; at < count; ) {
      LutInputs.Bits bits = inputs.bits(lut.address(), at, target, sink);
      String formal = LutBlock.POINT + Literals.range(at, bits.width());
      parts.add((bits.width() == count && count > 1 ? "" : formal + " => ") + bits.text());
      at += bits.width();
    }
    return parts;
  }

  /** Makes what LUTs are instances of visible, if it has to be. */
  void context(TextSink sink) {
    components.ifPresent(all -> all.context(sink));
  }

  /** Declares what LUTs are instances of, if it has to be. */
  void declare(TextSink sink) {
    components.ifPresent(all -> all.declare(sink));
  }

  /** Returns the signals that inputs are computed in, with their subtypes. */
  Map<String, String> computed() {
    return inputs.computed();
  }
}

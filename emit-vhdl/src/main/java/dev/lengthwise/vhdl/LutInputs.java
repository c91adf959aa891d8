package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.SourceBit;
import dev.lengthwise.circuit.text.TextSink;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;

/**
 * What the inputs of instances are connected to. An input that an expression computes gets a signal
 * of its own before the instance: no port map may hold an expression.
 */
final class LutInputs {

  private final EmissionPlan plan;
  private final Expressions expressions;
  private final Map<String, String> computed = new LinkedHashMap<>();

  LutInputs(EmissionPlan plan, Expressions expressions) {
    this.plan = plan;
    this.expressions = expressions;
  }

  /**
   * Neighbouring inputs that are neighbouring bits of one signal, or one input.
   *
   * @param text what they are connected to
   * @param width how many there are
   */
  record Bits(String text, int width) {}

  /** Returns what an input is connected to. */
  String bit(Signal address, int bit, String target, TextSink sink) {
    SourceBit source = SourceBit.of(plan, address, bit);
    Signal from = source.source();
    String index = from.width() == 1 ? "" : Literals.range(source.bit(), 1);
    if (plan.name(from.node()).isPresent()) {
      return plan.name(from.node()).get() + index;
    }
    if (plan.node(from) instanceof Node.Constant constant) {
      return constant.value().testBit(source.bit()) ? "'1'" : "'0'";
    }
    String name = plan.newName(target + "_input");
    computed.put(name, Literals.subtype(from.width()));
    Lines.add(sink, name + " <= " + expressions.of(from).text() + ";");
    return name + index;
  }

  /** Returns what an input is connected to, with those above it where they are its neighbours. */
  Bits bits(Signal address, int low, String target, TextSink sink) {
    SourceBit first = SourceBit.of(plan, address, low);
    Optional<String> name = plan.name(first.source().node());
    int width = 1;
    while (name.isPresent()
        && low + width < address.width()
        && SourceBit.of(plan, address, low + width)
            .equals(new SourceBit(first.source(), first.bit() + width))) {
      width++;
    }
    if (width == 1) {
      return new Bits(bit(address, low, target, sink), 1);
    }
    boolean whole = width == first.source().width();
    String text = name.orElseThrow() + (whole ? "" : Literals.range(first.bit(), width));
    return new Bits(text, width);
  }

  /** Returns the signals that inputs are computed in, with their subtypes. */
  Map<String, String> computed() {
    return computed;
  }
}

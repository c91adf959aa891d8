package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.SourceBit;
import dev.lengthwise.circuit.text.TextSink;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/** Writes LUTs as instances of a device's component. */
final class LutInstances {

  private final EmissionPlan plan;
  private final Expressions expressions;
  private final VhdlOptions.LutComponent component;
  private final Map<String, String> computed = new LinkedHashMap<>();
  private boolean used;

  LutInstances(EmissionPlan plan, Expressions expressions, VhdlOptions.LutComponent component) {
    this.plan = plan;
    this.expressions = expressions;
    this.component = component;
  }

  /**
   * Adds an instance, before it the inputs that an expression computes: no port map may hold one.
   */
  void write(String target, Node.Lookup node, TextSink sink) {
    int inputs = node.contents().addressBits();
    List<String> ports = component.inputs();
    if (inputs > ports.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "LUT component %s: a LUT must have at most %d inputs, found %d",
              component.component(),
              ports.size(),
              inputs));
    }
    checkName();
    TextSink map = new TextSink();
    int longest = longest();
    for (int i = 0; i < ports.size(); i++) {
      String actual = i < inputs ? actual(node.address(), i, target, sink) : "'0'";
      map.line(Block.padded(ports.get(i), longest) + " => " + actual + ",");
    }
    map.line(Block.padded(component.output(), longest) + " => " + target);
    String table = Literals.vector(node.contents().truthTable(ports.size()), 1 << ports.size());
    sink.blank().open(plan.newName(target + "_lut") + " : " + component.component());
    Lines.add(sink, "generic map (" + component.table() + " => " + table + ")");
    sink.open("port map (");
    map.text().lines().forEach(sink::line);
    sink.close(");").close("").blank();
  }

  /** The component stands among the block's own names, whose choice came first. */
  private void checkName() {
    if (!used) {
      used = true;
      String name = component.component().toLowerCase(Locale.ROOT);
      if (!plan.newName(name).equals(name)) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "LUT component %s: the name must not be used in the block, found it in %s",
                component.component(),
                plan.circuit().name()));
      }
    }
  }

  private String actual(Signal address, int bit, String target, TextSink sink) {
    SourceBit source = SourceBit.of(plan, address, bit);
    Signal from = source.source();
    String index = from.width() == 1 ? "" : "(" + source.bit() + ")";
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

  /** Returns the signals that inputs are computed in, with their subtypes. */
  Map<String, String> computed() {
    return computed;
  }

  /** Makes the component's library visible if there is an instance. */
  void context(TextSink sink) {
    if (used) {
      if (!component.library().equals("work")) {
        sink.line("library " + component.library() + ";");
      }
      sink.line("use " + component.library() + ".all;");
    }
  }

  /** Declares the component if there is an instance. */
  void declare(TextSink sink) {
    if (!used) {
      return;
    }
    int inputs = component.inputs().size();
    sink.blank().open("component " + component.component() + " is").open("generic (");
    sink.line(component.table() + " : bit_vector(" + ((1 << inputs) - 1) + " downto 0)");
    sink.close(");").open("port (");
    component
        .inputs()
        .forEach(input -> sink.line(Block.padded(input, longest()) + " : in  std_logic;"));
    sink.line(Block.padded(component.output(), longest()) + " : out std_logic");
    sink.close(");").close("end component " + component.component() + ";");
  }

  private int longest() {
    int inputs = component.inputs().stream().mapToInt(String::length).max().orElseThrow();
    return Math.max(inputs, component.output().length());
  }
}

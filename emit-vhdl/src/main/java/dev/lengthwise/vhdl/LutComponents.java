package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;
import java.util.Locale;

/** Writes LUTs as instances of a device's component. */
final class LutComponents {

  private final EmissionPlan plan;
  private final LutInputs inputs;
  private final VhdlOptions.LutComponent component;
  private boolean used;

  LutComponents(EmissionPlan plan, LutInputs inputs, VhdlOptions.LutComponent component) {
    this.plan = plan;
    this.inputs = inputs;
    this.component = component;
  }

  /** Adds an instance. */
  void write(int place, Node.Lookup node, TextSink sink) {
    String target = plan.name(place).orElseThrow();
    int count = node.contents().addressBits();
    List<String> ports = component.inputs();
    if (count > ports.size()) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "LUT component %s: a LUT must have at most %d inputs, found %d",
              component.component(),
              ports.size(),
              count));
    }
    checkName();
    TextSink map = new TextSink();
    int longest = longest();
    for (int i = 0; i < ports.size(); i++) {
      String actual = i < count ? inputs.bit(node.address(), i, target, sink) : "'0'";
      map.line(Block.padded(ports.get(i), longest) + " => " + actual + ",");
    }
    map.line(Block.padded(component.output(), longest) + " => " + target);
    String table = Literals.vector(node.contents().truthTable(ports.size()), 1 << ports.size());
    sink.blank().open(plan.cellName(place) + " : " + component.component());
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
    int count = component.inputs().size();
    sink.blank().open("component " + component.component() + " is").open("generic (");
    sink.line(component.table() + " : bit_vector(" + ((1 << count) - 1) + " downto 0)");
    sink.close(");").open("port (");
    component
        .inputs()
        .forEach(input -> sink.line(Block.padded(input, longest()) + " : in  std_logic;"));
    sink.line(Block.padded(component.output(), longest()) + " : out std_logic");
    sink.close(");").close("end component " + component.component() + ";");
  }

  private int longest() {
    int longest = component.inputs().stream().mapToInt(String::length).max().orElseThrow();
    return Math.max(longest, component.output().length());
  }
}

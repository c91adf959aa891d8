package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Port;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;
import java.util.function.Function;

/**
 * The plans of the blocks of one design, which know each other's names: Verilog looks names up from
 * a function or a block outwards, and a name that means two things on that way is what linters warn
 * of. So an instance is not called as anything inside its block, for which blocks inside are
 * planned first, and a table is not called as anything that any block was told to call so.
 */
public final class EmissionPlans {

  private final IdentityHashMap<Circuit, EmissionPlan> plans = new IdentityHashMap<>();
  private final Set<String> wishes = new HashSet<>();
  private final Circuit top;

  /**
   * Starts with no plan.
   *
   * @param top the design's outermost block
   */
  public EmissionPlans(Circuit top) {
    this.top = top;
    top.blocks().forEach(this::addWishes);
  }

  /**
   * Prints all blocks of a design.
   *
   * @param top the design's outermost block
   * @param folder the folder of the language
   * @param suffix what a file's name ends with
   * @param text prints a block
   * @return one file for each block in compile order, then {@code folder/<top>.f}, which lists
   *     their names, one a line
   * @throws IllegalStateException if two different blocks share a name
   */
  public static List<OutputFile> files(
      Circuit top, String folder, String suffix, Function<EmissionPlan, String> text) {
    List<OutputFile> files = new ArrayList<>();
    StringBuilder list = new StringBuilder();
    EmissionPlans plans = new EmissionPlans(top);
    for (Circuit block : top.blocks()) {
      String name = block.name() + suffix;
      files.add(new OutputFile(folder + '/' + name, text.apply(plans.of(block))));
      list.append(name).append('\n');
    }
    files.add(new OutputFile(folder + '/' + top.name() + ".f", list.toString()));
    return List.copyOf(files);
  }

  private void addWishes(Circuit block) {
    wishes.add(block.name());
    block.ports().stream().map(Port::name).forEach(wishes::add);
    block.instances().stream().map(Circuit.Instance::name).forEach(wishes::add);
    block.memoryWrites().keySet().forEach(memory -> wishes.add(memory.name()));
    for (int node = 0; node < block.nodes().size(); node++) {
      int at = node;
      block.nameOf(node).or(() -> block.suggestionFor(at)).ifPresent(wishes::add);
      if (block.nodes().get(node) instanceof Node.Register register) {
        wishes.add(register.name());
      }
    }
  }

  /** Tells whether a block was told to call something so. */
  boolean isWish(String name) {
    return wishes.contains(name);
  }

  /** Returns what the file of a block says of figures and safety. */
  String caution(Circuit block) {
    return block == top ? Caution.WHOLE : Caution.SHORT;
  }

  /**
   * Plans a block, or returns its plan if it was planned before.
   *
   * @param block a block of the design
   * @return its plan
   */
  public EmissionPlan of(Circuit block) {
    EmissionPlan known = plans.get(block);
    if (known == null) {
      known = new EmissionPlan(block, this);
      plans.put(block, known);
    }
    return known;
  }
}

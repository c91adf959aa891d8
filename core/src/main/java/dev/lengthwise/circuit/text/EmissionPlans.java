package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.name.NameAllocator;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.IdentityHashMap;
import java.util.List;
import java.util.Set;
import java.util.stream.Collectors;

/**
 * The plans of the blocks of one design, which know each other's names: Verilog looks names up from
 * a function or a block outwards, and a name that means two things on that way is what linters warn
 * of. So an instance is not called as anything inside its block, for which blocks inside are
 * planned first, and a table or a LUT is not called as anything that any block was told to call so.
 */
public final class EmissionPlans {

  private final IdentityHashMap<Circuit, EmissionPlan> plans = new IdentityHashMap<>();
  private final Set<String> wishes = new HashSet<>();
  private final Circuit top;
  private final String lutBlock;

  /**
   * Starts with no plan.
   *
   * @param top the design's outermost block
   */
  public EmissionPlans(Circuit top) {
    this.top = top;
    top.blocks().forEach(this::addWishes);
    this.lutBlock = apart(new NameAllocator(), top.name() + "_lut");
  }

  /**
   * Prints all blocks of a design.
   *
   * @param top the design's outermost block
   * @param folder the folder of the language
   * @param suffix what a file's name ends with
   * @param text prints a file
   * @return one file for each block in compile order, the block of LUTs first if there is one, then
   *     {@code folder/<top>.f}, which lists their names, one a line
   * @throws IllegalStateException if two different blocks share a name
   */
  public static List<OutputFile> files(Circuit top, String folder, String suffix, DesignText text) {
    List<OutputFile> files = new ArrayList<>();
    EmissionPlans plans = new EmissionPlans(top);
    boolean luts = false;
    for (Circuit block : top.blocks()) {
      // A block is planned after the text of those inside it, which takes names too.
      EmissionPlan plan = plans.of(block);
      files.add(new OutputFile(block.name() + suffix, text.block(plan)));
      luts |= plan.hasLuts();
    }
    if (luts) {
      text.lutBlock(plans.lutBlock)
          .ifPresent(block -> files.add(0, new OutputFile(plans.lutBlock + suffix, block)));
    }
    String list = files.stream().map(file -> file.path() + '\n').collect(Collectors.joining());
    files.add(new OutputFile(top.name() + ".f", list));
    return files.stream()
        .map(file -> new OutputFile(folder + '/' + file.path(), file.text()))
        .toList();
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

  /** Returns a name as near to the wish as can be that no block was told to call something. */
  String apart(NameAllocator allocator, String wish) {
    String name = allocator.allocate(wish);
    while (wishes.contains(name)) {
      name = allocator.allocate(wish);
    }
    return name;
  }

  /** Returns the name of the block that LUTs may be instances of. */
  String lutBlock() {
    return lutBlock;
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

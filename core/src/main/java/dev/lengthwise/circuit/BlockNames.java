package dev.lengthwise.circuit;

import dev.lengthwise.name.NameAllocator;
import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.IdentityHashMap;
import java.util.List;

/**
 * The names of a block and of all blocks inside it. Some begin with names of users, so two blocks
 * may wish for one name; the outer one keeps it, and the other gets a number behind it.
 */
final class BlockNames {

  private final NameAllocator allocator = new NameAllocator();
  private final IdentityHashMap<Circuit, String> names = new IdentityHashMap<>();
  private final IdentityHashMap<Circuit, Circuit> copies = new IdentityHashMap<>();
  private boolean changed;

  private BlockNames() {}

  /** Returns the block, with other names inside where two different blocks shared one. */
  static Circuit apart(Circuit top) {
    BlockNames all = new BlockNames();
    all.give(top);
    return all.changed ? all.copy(top) : top;
  }

  private void give(Circuit top) {
    Deque<Circuit> waiting = new ArrayDeque<>(List.of(top));
    while (!waiting.isEmpty()) {
      Circuit block = waiting.remove();
      if (!names.containsKey(block)) {
        boolean free = !allocator.isTaken(block.name());
        String name = free ? allocator.reserve(block.name()) : another(block);
        names.put(block, name);
        changed |= !free;
        block.instances().forEach(instance -> waiting.add(instance.circuit()));
      }
    }
  }

  /** A port of a block is not called as the block is. */
  private String another(Circuit block) {
    String name = allocator.allocate(block.name());
    while (block.ports().stream().map(Port::name).anyMatch(name::equals)) {
      name = allocator.allocate(block.name());
    }
    return name;
  }

  private Circuit copy(Circuit block) {
    Circuit known = copies.get(block);
    if (known == null) {
      List<Circuit.Instance> inside = new ArrayList<>();
      for (Circuit.Instance instance : block.instances()) {
        inside.add(
            new Circuit.Instance(instance.name(), copy(instance.circuit()), instance.inputs()));
      }
      known = block.with(names.get(block), inside);
      copies.put(block, known);
    }
    return known;
  }
}

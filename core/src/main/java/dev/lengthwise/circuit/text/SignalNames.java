package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.name.NameAllocator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * The names of everything inside a block, alike in every language.
 *
 * <p>Ports, clock, reset and blocks keep theirs; then come registers, memories, instances and
 * wishes, and last the names made up for signals that nobody named.
 */
final class SignalNames {

  final Map<Integer, String> signals = new HashMap<>();
  final Map<Integer, String> tables = new HashMap<>();
  final Map<Integer, String> cells = new HashMap<>();
  final Map<Memory, String> memories = new HashMap<>();
  final Map<Integer, String> instances = new HashMap<>();
  final Map<String, String> unreadOutputs = new HashMap<>();
  final NameAllocator allocator = new NameAllocator();

  private final Circuit circuit;
  private final List<Node> nodes;
  private final EmissionPlans plans;

  SignalNames(Circuit circuit, List<Node> nodes, EmissionPlans plans) {
    this.circuit = circuit;
    this.nodes = nodes;
    this.plans = plans;
    List.of("clock", "reset", "reset_n").forEach(allocator::reserve);
    circuit.blocks().forEach(block -> allocator.reserve(block.name()));
    allocator.reserve(plans.lutBlock());
    circuit.ports().forEach(port -> allocator.reserve(port.name()));
  }

  void nameSignals(List<Integer> declared, Map<Integer, String> ports, Usage usage) {
    ports.forEach(signals::put);
    for (int node : declared) {
      if (nodes.get(node) instanceof Node.Register register) {
        signals.put(node, fromWish(register.name(), "_q"));
      }
    }
    for (Memory memory : circuit.memoryWrites().keySet()) {
      if (usage.memories.contains(memory)) {
        memories.put(memory, fromWish(memory.name(), "_ram"));
      }
    }
    for (int i = 0; i < circuit.instances().size(); i++) {
      if (usage.instances.contains(i)) {
        instances.put(i, instance(circuit.instances().get(i)));
      }
    }
    for (int node : declared) {
      circuit
          .nameOf(node)
          .ifPresent(wish -> signals.computeIfAbsent(node, n -> fromWish(wish, "_value")));
    }
    DerivedNames derived = new DerivedNames(nodes, this::known);
    derived.learn(circuit, this, usage);
    for (int node : declared) {
      signals.computeIfAbsent(node, n -> allocator.allocate(unnamed(n, derived)));
    }
    for (int node : declared) {
      if (nodes.get(node) instanceof Node.Lookup lookup) {
        tables.put(node, plans.apart(allocator, signals.get(node) + "_table"));
        if (lookup.lut()) {
          cells.put(node, plans.apart(allocator, signals.get(node) + "_cell"));
        }
      }
    }
    nameUnreadOutputs(usage);
  }

  private void nameUnreadOutputs(Usage usage) {
    for (int node = 0; node < nodes.size(); node++) {
      if (nodes.get(node) instanceof Node.InstanceOutput output
          && usage.instances.contains(output.instance())
          && !usage.live.get(node)) {
        String instance = instances.get(output.instance());
        unreadOutputs.put(
            instance + "." + output.port(),
            allocator.allocate("unused_" + instance + "_" + output.port()));
      }
    }
  }

  /** Returns a name that means nothing inside the instanced block. */
  private String instance(Circuit.Instance instance) {
    EmissionPlan inside = plans.of(instance.circuit());
    String name = fromWish(instance.name(), "_block");
    while (inside.names(name)) {
      name = allocator.allocate(instance.name() + "_block");
    }
    return name;
  }

  /** A wish that a port has taken gets the suffix that says what the signal behind it is. */
  private String fromWish(String wish, String suffix) {
    return allocator.allocate(allocator.isTaken(wish) && isPort(wish) ? wish + suffix : wish);
  }

  private boolean isPort(String name) {
    return circuit.ports().stream().map(Port::name).anyMatch(name::equals);
  }

  private Optional<String> known(int at) {
    return nodes.get(at) instanceof Node.Input input
        ? Optional.of(input.port())
        : Optional.ofNullable(signals.get(at));
  }

  private String unnamed(int at, DerivedNames derived) {
    Node node = nodes.get(at);
    for (Map.Entry<String, Signal> driver : circuit.drivers().entrySet()) {
      if (driver.getValue().node() == at) {
        return driver.getKey() + "_value";
      }
    }
    if (node instanceof Node.InstanceOutput output) {
      return instances.get(output.instance()) + "_" + output.port();
    } else if (node instanceof Node.RegisteredRead read) {
      return memories.get(read.memory()) + "_word";
    } else if (node instanceof Node.DirectRead read) {
      return memories.get(read.memory()) + "_word";
    }
    return circuit.suggestionFor(at).or(() -> derived.of(at)).orElseGet(() -> ordinary(node));
  }

  private static String ordinary(Node node) {
    if (node instanceof Node.Lookup lookup) {
      return lookup.lut() ? "lut" : "found";
    } else if (node instanceof Node.Select) {
      return "choice";
    } else if (node instanceof Node.Sum sum) {
      return sum.subtract() ? "difference" : "sum";
    } else if (node instanceof Node.Compare compare) {
      return compare.equal() ? "match" : "below";
    } else if (node instanceof Node.Concat || node instanceof Node.Slice) {
      return "bits";
    } else if (node instanceof Node.Constant) {
      return "fixed";
    }
    return "term";
  }
}

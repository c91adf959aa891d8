package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;

/**
 * Names for signals that nobody named: after the one place that reads them, such as {@code
 * next_count}, or else after what they are made of, such as {@code key_and_wide}.
 */
final class DerivedNames {

  /** A longer name says less than a short one. */
  private static final int LONGEST = 40;

  /** The most signals that a name joins. */
  private static final int MOST_JOINED = 3;

  private final List<Node> nodes;
  private final Function<Integer, Optional<String>> named;
  private final Map<Integer, String> byUse = new HashMap<>();

  /**
   * Starts with what reads signals.
   *
   * @param nodes the nodes as they are printed
   * @param named the names known until now, of inputs too
   */
  DerivedNames(List<Node> nodes, Function<Integer, Optional<String>> named) {
    this.nodes = nodes;
    this.named = named;
  }

  /** Learns what state, memories, instances and outputs read and nothing else does. */
  void learn(Circuit circuit, SignalNames names, Usage usage) {
    circuit
        .registerDrives()
        .forEach(
            (register, drive) ->
                named
                    .apply(register)
                    .ifPresent(
                        name -> {
                          learn(drive.next(), "next_" + name, usage);
                          drive.enable().ifPresent(e -> learn(e, name + "_enable", usage));
                        }));
    names.memories.forEach(
        (memory, name) -> {
          Circuit.MemoryWrite write = circuit.memoryWrites().get(memory);
          learn(write.enable(), name + "_write", usage);
          learn(write.address(), name + "_write_address", usage);
          learn(write.data(), name + "_write_data", usage);
          write.clear().ifPresent(clear -> learn(clear, name + "_clear", usage));
        });
    names.instances.forEach(
        (place, name) -> {
          Circuit.Instance instance = circuit.instances().get(place);
          List<Port> inputs =
              instance.circuit().ports().stream()
                  .filter(port -> port.direction() == Port.Direction.INPUT)
                  .toList();
          for (int i = 0; i < inputs.size(); i++) {
            learn(instance.inputs().get(i), name + "_" + inputs.get(i).key(), usage);
          }
        });
    circuit
        .drivers()
        .forEach(
            (port, driver) -> {
              if (nodes.get(driver.node()) instanceof Node.Slice slice && slice.low() == 0) {
                learn(slice.source(), port + "_full", usage);
              }
            });
  }

  private void learn(Signal signal, String name, Usage usage) {
    if (usage.reads[signal.node()] == 1) {
      byUse.putIfAbsent(signal.node(), name);
    }
  }

  /** Returns a name for a node, or empty if nothing that it is near to has one. */
  Optional<String> of(int at) {
    String use = byUse.get(at);
    return use != null ? Optional.of(use) : content(nodes.get(at));
  }

  private Optional<String> content(Node node) {
    Optional<String> name = Optional.empty();
    if (node instanceof Node.Concat concat) {
      name = concat(concat);
    } else if (node instanceof Node.Not not) {
      name = operand(not.source()).map(source -> "not_" + source);
    } else if (node instanceof Node.Reduce reduce) {
      String start =
          switch (reduce.operation()) {
            case AND -> "all_";
            case OR -> "any_";
            case XOR -> "parity_";
          };
      name = operand(reduce.source()).map(source -> start + source);
    } else if (node instanceof Node.Bitwise bitwise) {
      name =
          switch (bitwise.operation()) {
            case AND -> joined("_and_", bitwise.operands());
            case OR -> joined("_or_", bitwise.operands());
            case XOR -> joined("_xor_", bitwise.operands());
          };
    } else if (node instanceof Node.Compare compare) {
      name = joined(compare.equal() ? "_is_" : "_below_", compare.operands());
    } else if (node instanceof Node.Sum sum) {
      name = joined(sum.subtract() ? "_minus_" : "_plus_", List.of(sum.left(), sum.right()));
    } else if (node instanceof Node.Select select) {
      name = select(select);
    }
    return name.filter(text -> text.length() <= LONGEST);
  }

  /** A choice between a value and 0 is that value under a condition. */
  private Optional<String> select(Node.Select select) {
    List<Signal> choices = select.choices();
    boolean zero =
        select.index().width() == 1
            && nodes.get(choices.get(0).node()) instanceof Node.Constant constant
            && constant.value().signum() == 0;
    Optional<String> index = operand(select.index());
    return zero && isSignal(choices.get(1))
        ? operand(choices.get(1)).flatMap(one -> index.map(i -> one + "_if_" + i))
        : index.map(i -> "chosen_by_" + i);
  }

  private Optional<String> joined(String word, List<Signal> operands) {
    List<String> names = new ArrayList<>();
    for (Signal operand : operands) {
      operand(operand).ifPresent(names::add);
    }
    boolean all = names.size() == operands.size() && names.size() <= MOST_JOINED;
    return all && isSignal(operands.get(0))
        ? Optional.of(String.join(word, names))
        : Optional.empty();
  }

  private boolean isSignal(Signal signal) {
    return !(nodes.get(signal.node()) instanceof Node.Constant);
  }

  /** Returns what an operand is called inside a name. */
  private Optional<String> operand(Signal signal) {
    Optional<String> name = named.apply(signal.node());
    if (name.isPresent()) {
      return name;
    }
    Node node = nodes.get(signal.node());
    if (node instanceof Node.Constant constant) {
      return Optional.of(constant.value().toString());
    } else if (node instanceof Node.Not not) {
      return named.apply(not.source().node()).map(source -> "not_" + source);
    } else if (node instanceof Node.Slice slice) {
      String bits =
          slice.width() == slice.source().width()
              ? ""
              : slice.width() == 1 ? "_bit_" + slice.low() : "_bits";
      return named.apply(slice.source().node()).map(source -> source + bits);
    }
    return Optional.empty();
  }

  /** Names all signals that are side by side, the lowest first. */
  private Optional<String> concat(Node.Concat concat) {
    Map<String, Integer> widths = new LinkedHashMap<>();
    Map<String, Integer> found = new HashMap<>();
    boolean padded = false;
    for (Signal part : concat.parts()) {
      Node node = nodes.get(part.node());
      if (node instanceof Node.Constant constant) {
        if (constant.value().signum() != 0) {
          return Optional.empty();
        }
        padded = true;
        continue;
      }
      Optional<String> whole = named.apply(part.node());
      Signal source = part;
      if (whole.isEmpty() && node instanceof Node.Slice slice) {
        source = slice.source();
        whole = named.apply(source.node());
      }
      if (whole.isEmpty()) {
        return Optional.empty();
      }
      widths.put(whole.get(), source.width());
      found.merge(whole.get(), part.width(), Integer::sum);
    }
    if (widths.isEmpty() || widths.size() > MOST_JOINED) {
      return Optional.empty();
    }
    List<String> names = new ArrayList<>();
    widths.forEach((name, width) -> names.add(found.get(name) < width ? name + "_bits" : name));
    boolean copies = Set.copyOf(concat.parts()).size() == 1;
    return Optional.of(
        String.join("_and_", names) + (copies ? "_copies" : padded ? "_padded" : ""));
  }
}

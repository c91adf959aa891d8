package dev.lengthwise.realize.row;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.name.NameAllocator;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cells.LanePorts;
import dev.lengthwise.realize.lane.Lookups;
import dev.lengthwise.realize.lane.MapCore;
import dev.lengthwise.realize.lane.WordLogic;
import dev.lengthwise.realize.marks.LateModes;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * Cuts a lane of {@link MapCore} in two: each opcode map and operand specifier is looked up at a
 * byte, the choices between maps and the sum are the lane's.
 */
public final class SharedMapLane {

  private final LaneArray array;
  private final LateModes late;

  /** A block that is looked up, by the name under which it is. */
  private final Map<String, Circuit> blocks = new LinkedHashMap<>();

  private final Map<String, String> instances = new LinkedHashMap<>();
  private final NameAllocator instanceNames = new NameAllocator();
  private final Set<Use> uses = new LinkedHashSet<>();

  /** An input of the lane: an output of a block at a position. */
  private record Use(String lookup, int position, String field) {

    String port() {
      return lookup + "_" + position + "_" + field;
    }
  }

  private SharedMapLane(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
  }

  public static SharedLane of(LaneArray array, LateModes late, WordLogic words) {
    return new SharedMapLane(array, late).build(words);
  }

  private SharedLane build(WordLogic words) {
    Circuit core = new MapCore(array.lane(), 0, array.lane().name(), words, this::lookups).build();
    Circuit atByte = atByte();
    List<SharedLane.Part> parts = new ArrayList<>();
    for (int word = 0; word < late.words(); word++) {
      List<SharedLane.Wire> wires = new ArrayList<>();
      for (Use use : uses) {
        String output = output(use.lookup(), word, use.field());
        wires.add(new SharedLane.Wire(use.port(), use.position(), output));
      }
      parts.add(
          new SharedLane.Part(
              late.count() == 0 ? "" : "word_" + word,
              core,
              wires,
              Map.of(word, LanePorts.LENGTH)));
    }
    return new SharedLane(atByte, parts);
  }

  private Lookups lookups(CircuitBuilder circuit) {
    Map<Use, Signal> inputs = new LinkedHashMap<>();
    return (block, name, position) -> {
      String lookup = name;
      for (int i = 1; blocks.getOrDefault(lookup, block) != block; i++) {
        lookup = name + i;
      }
      blocks.put(lookup, block);
      Map<String, Signal> fields = new LinkedHashMap<>();
      for (Port port : block.ports()) {
        if (port.direction() == Port.Direction.OUTPUT) {
          Use use = new Use(lookup, position, port.key());
          uses.add(use);
          fields.put(
              port.key(),
              inputs.computeIfAbsent(
                  use,
                  u -> circuit.input(u.port(), port.width(), u.lookup() + " at byte " + position)));
        }
      }
      return fields;
    };
  }

  /** Returns the late word with 0 for the modes that a block does not read. */
  private int wordRead(String lookup, int word) {
    int read = 0;
    for (Port port : blocks.get(lookup).ports()) {
      int mode = port.isOfUser() ? late.names().indexOf(port.name()) : -1;
      read |= mode < 0 ? 0 : 1 << mode;
    }
    return word & read;
  }

  private boolean readsLate(String lookup) {
    return wordRead(lookup, -1) != 0;
  }

  private String instance(String lookup, int word) {
    String wish = readsLate(lookup) ? lookup + "_word_" + wordRead(lookup, word) : lookup;
    return instances.computeIfAbsent(lookup + " " + wish, key -> instanceNames.allocate(wish));
  }

  private String output(String lookup, int word, String field) {
    return instance(lookup, word) + "_" + field;
  }

  private Circuit atByte() {
    CircuitBuilder circuit =
        Circuit.named(
            array.name() + "_byte",
            "What a byte of the window says to every lane that sees it: opcode maps and operand"
                + " specifiers.");
    boolean readsTwo =
        blocks.values().stream()
            .flatMap(block -> block.ports().stream())
            .anyMatch(
                port ->
                    port.key().equals("index_byte")
                        || port.key().equals("key") && port.width() > 8);
    LanePorts ports = new LanePorts(circuit, array.lane(), readsTwo ? 2 : 1, late.names());
    Set<String> placed = new LinkedHashSet<>();
    blocks.forEach(
        (lookup, block) -> {
          for (int word = 0; word < late.words(); word++) {
            String instance = instance(lookup, word);
            if (placed.add(instance)) {
              Map<String, Signal> inputs = Lookups.inputs(block, ports.with(late.values(word)), 0);
              circuit
                  .instance(instance, block, inputs)
                  .forEach((field, signal) -> addOutput(circuit, instance, field, signal));
            }
          }
        });
    return circuit.build();
  }

  private static void addOutput(
      CircuitBuilder circuit, String instance, String field, Signal signal) {
    circuit.output(instance + "_" + field, signal, field + " of " + instance);
  }
}

package dev.lengthwise.circuit.text;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.util.ArrayDeque;
import java.util.BitSet;
import java.util.Deque;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;

/**
 * What of a circuit reaches an output, how often each signal is read and which of its bits.
 *
 * <p>A signal may have to be simple (an input, a constant, some bits of a signal, or a signal of
 * its own) or sliceable (an input or a signal of its own) because of where it is read; both are
 * rules of the most demanding language.
 */
final class Usage {

  /** What the place of use asks of an operand. */
  private enum Demand {
    ANY,
    SIMPLE,
    SLICEABLE
  }

  final BitSet live = new BitSet();
  final BitSet simple = new BitSet();
  final BitSet sliceable = new BitSet();
  final int[] reads;
  final BitSet[] readBits;
  final Set<Integer> instances = new LinkedHashSet<>();
  final Set<Memory> memories = new LinkedHashSet<>();

  private final Circuit circuit;
  private final List<Node> nodes;
  private final Deque<Integer> pending = new ArrayDeque<>();

  Usage(Circuit circuit, List<Node> nodes) {
    this.circuit = circuit;
    this.nodes = nodes;
    this.reads = new int[nodes.size()];
    this.readBits = new BitSet[nodes.size()];
    for (int node = 0; node < nodes.size(); node++) {
      readBits[node] = new BitSet();
    }
    circuit.drivers().values().forEach(driver -> read(driver, Demand.ANY));
    while (!pending.isEmpty()) {
      visit(pending.pop());
    }
  }

  private void read(Signal signal, Demand demand) {
    readBits(signal, 0, signal.width(), demand);
  }

  private void readBits(Signal signal, int low, int width, Demand demand) {
    int node = signal.node();
    reads[node]++;
    readBits[node].set(low, low + width);
    if (demand != Demand.ANY) {
      simple.set(node);
    }
    if (demand == Demand.SLICEABLE) {
      sliceable.set(node);
    }
    if (!live.get(node)) {
      live.set(node);
      pending.push(node);
    }
  }

  private void visit(int at) {
    Node node = nodes.get(at);
    if (node instanceof Node.Slice slice) {
      readBits(slice.source(), slice.low(), slice.width(), Demand.SLICEABLE);
    } else if (node instanceof Node.Select select) {
      read(select.index(), select.index().width() > 1 ? Demand.SIMPLE : Demand.ANY);
      select.choices().forEach(choice -> read(choice, Demand.ANY));
    } else if (node instanceof Node.Lookup lookup) {
      visitLookup(lookup);
    } else if (node instanceof Node.Register) {
      Circuit.RegisterDrive drive = circuit.registerDrives().get(at);
      read(drive.next(), Demand.ANY);
      drive.enable().ifPresent(enable -> read(enable, Demand.ANY));
    } else if (node instanceof Node.DirectRead async) {
      read(async.address(), Demand.SIMPLE);
      visitMemory(async.memory());
    } else if (node instanceof Node.RegisteredRead sync) {
      read(sync.address(), Demand.SIMPLE);
      sync.enable().ifPresent(enable -> read(enable, Demand.ANY));
      visitMemory(sync.memory());
    } else if (node instanceof Node.InstanceOutput output) {
      if (instances.add(output.instance())) {
        circuit
            .instances()
            .get(output.instance())
            .inputs()
            .forEach(input -> read(input, Demand.SIMPLE));
      }
    } else {
      node.operands().forEach(operand -> read(operand, Demand.ANY));
    }
  }

  private void visitLookup(Node.Lookup lookup) {
    Signal address = lookup.address();
    boolean inPlace =
        lookup.lut()
            && nodes.get(address.node()) instanceof Node.Concat
            && circuit.nameOf(address.node()).isEmpty();
    read(address, inPlace ? Demand.ANY : Demand.SIMPLE);
    if (inPlace) {
      ((Node.Concat) nodes.get(address.node())).parts().forEach(part -> simple.set(part.node()));
    }
  }

  private void visitMemory(Memory memory) {
    if (memories.add(memory)) {
      Circuit.MemoryWrite write = circuit.memoryWrites().get(memory);
      boolean inParts = memory.lanes() > 1 || memory.kind() == Memory.Kind.REGISTERS;
      Demand demand = inParts ? Demand.SLICEABLE : Demand.ANY;
      read(write.enable(), demand);
      read(write.address(), Demand.SIMPLE);
      read(write.data(), demand);
      write.clear().ifPresent(clear -> read(clear, Demand.ANY));
    }
  }
}

package dev.lengthwise.realize.gates;

import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.gates.TableGates;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/**
 * Writes the nodes of circuits as small gates: one gate for each bit of logic, a ripple of carries
 * for each sum and comparison, gates that the bits of a word share for each lookup of more inputs
 * than a LUT.
 *
 * <p>Structural cut mapping of the gates gives the LUTs and levels of logic that is not a table.
 */
final class GateNetwork {

  private static final TruthTable AND = TruthTable.parse("0001");
  private static final TruthTable OR = TruthTable.parse("0111");
  private static final TruthTable XOR = TruthTable.parse("0110");
  private static final TruthTable XOR3 = TruthTable.parse("01101001");
  private static final TruthTable MAJORITY = TruthTable.parse("00010111");
  private static final TruthTable NOT = TruthTable.parse("10");

  /** Inputs: when 0, when 1, select. */
  private static final TruthTable MUX = TruthTable.parse("01010011");

  private final LutNetworkBuilder gates;
  private final int lutInputs;
  private final Map<Contents, List<LutNetwork>> lookups = new HashMap<>();

  GateNetwork(LutNetworkBuilder gates, int lutInputs) {
    this.gates = gates;
    this.lutInputs = lutInputs;
  }

  /** Adds the gates of a node that computes, and returns its bits. */
  int[] bits(Node node, int[][] values) {
    return node.accept(new Gates(values));
  }

  /** Adds the gates of each kind that computes. */
  private final class Gates implements Node.Visitor<int[]> {

    private final int[][] values;

    Gates(int[][] values) {
      this.values = values;
    }

    @Override
    public int[] constant(Node.Constant constant) {
      int[] bits = new int[constant.width()];
      for (int i = 0; i < bits.length; i++) {
        bits[i] = constant.value().testBit(i) ? LutNetwork.ONE : LutNetwork.ZERO;
      }
      return bits;
    }

    @Override
    public int[] slice(Node.Slice slice) {
      int[] source = of(slice.source(), values);
      return Arrays.copyOfRange(source, slice.low(), slice.low() + slice.width());
    }

    @Override
    public int[] concat(Node.Concat concat) {
      return concat.parts().stream().flatMapToInt(p -> Arrays.stream(of(p, values))).toArray();
    }

    @Override
    public int[] not(Node.Not not) {
      return Arrays.stream(of(not.source(), values)).map(b -> gates.lut(NOT, b)).toArray();
    }

    @Override
    public int[] bitwise(Node.Bitwise bitwise) {
      return GateNetwork.this.bitwise(bitwise, values);
    }

    @Override
    public int[] reduce(Node.Reduce reduce) {
      return new int[] {tree(gate(reduce.operation()), of(reduce.source(), values))};
    }

    @Override
    public int[] sum(Node.Sum sum) {
      return GateNetwork.this.sum(sum, values);
    }

    @Override
    public int[] compare(Node.Compare compare) {
      return new int[] {GateNetwork.this.compare(compare, values)};
    }

    @Override
    public int[] select(Node.Select select) {
      return GateNetwork.this.select(
          of(select.index(), values), select.choices().stream().map(c -> of(c, values)).toList());
    }

    @Override
    public int[] lookup(Node.Lookup lookup) {
      return GateNetwork.this.lookup(of(lookup.address(), values), lookup.contents());
    }

    @Override
    public int[] input(Node.Input input) {
      throw given(input);
    }

    @Override
    public int[] register(Node.Register register) {
      throw given(register);
    }

    @Override
    public int[] directRead(Node.DirectRead read) {
      throw given(read);
    }

    @Override
    public int[] registeredRead(Node.RegisteredRead read) {
      throw given(read);
    }

    @Override
    public int[] instanceOutput(Node.InstanceOutput output) {
      throw given(output);
    }

    private IllegalArgumentException given(Node node) {
      return new IllegalArgumentException(
          "gate network: a node that computes is expected, found " + node);
    }
  }

  int not(int bit) {
    return gates.lut(NOT, bit);
  }

  private static int[] of(Signal signal, int[][] values) {
    return values[signal.node()];
  }

  static TruthTable gate(Node.Operation operation) {
    return switch (operation) {
      case AND -> AND;
      case OR -> OR;
      case XOR -> XOR;
    };
  }

  private int[] bitwise(Node.Bitwise node, int[][] values) {
    int[] bits = new int[node.width()];
    for (int i = 0; i < bits.length; i++) {
      int bit = i;
      bits[i] =
          tree(
              gate(node.operation()),
              node.operands().stream().mapToInt(o -> of(o, values)[bit]).toArray());
    }
    return bits;
  }

  /** Joins signals by a balanced tree of two-input gates. */
  int tree(TruthTable gate, int[] signals) {
    int[] level = signals;
    while (level.length > 1) {
      int[] next = new int[(level.length + 1) / 2];
      for (int i = 0; i < next.length; i++) {
        next[i] =
            2 * i + 1 < level.length
                ? gates.lut(gate, level[2 * i], level[2 * i + 1])
                : level[2 * i];
      }
      level = next;
    }
    return level[0];
  }

  private int[] sum(Node.Sum node, int[][] values) {
    int[] left = Arrays.copyOf(of(node.left(), values), node.width());
    int[] right = Arrays.copyOf(of(node.right(), values), node.width());
    Arrays.fill(left, node.left().width(), node.width(), LutNetwork.ZERO);
    Arrays.fill(right, node.right().width(), node.width(), LutNetwork.ZERO);
    int carry = node.subtract() ? LutNetwork.ONE : LutNetwork.ZERO;
    int[] bits = new int[node.width()];
    for (int i = 0; i < bits.length; i++) {
      int b = node.subtract() ? gates.lut(NOT, right[i]) : right[i];
      bits[i] = gates.lut(XOR3, left[i], b, carry);
      carry = gates.lut(MAJORITY, left[i], b, carry);
    }
    return bits;
  }

  private int compare(Node.Compare node, int[][] values) {
    int[] left = of(node.left(), values);
    int[] right = of(node.right(), values);
    if (node.equal()) {
      int[] same = new int[left.length];
      for (int i = 0; i < same.length; i++) {
        same[i] = gates.lut(NOT, gates.lut(XOR, left[i], right[i]));
      }
      return tree(AND, same);
    }
    int less = LutNetwork.ZERO;
    for (int i = 0; i < left.length; i++) {
      less = gates.lut(MAJORITY, gates.lut(NOT, left[i]), right[i], less);
    }
    return less;
  }

  /** An index past the last choice chooses the last. */
  int[] select(int[] index, List<int[]> choices) {
    int span = 1 << Math.min(30, index.length - 1);
    if (choices.size() == 1) {
      return choices.get(0);
    }
    int[] low = Arrays.copyOf(index, index.length - 1);
    int top = index[index.length - 1];
    if (choices.size() <= span) {
      int[] inside = select(low, choices);
      return muxAll(top, inside, choices.get(choices.size() - 1));
    }
    return muxAll(
        top,
        select(low, choices.subList(0, span)),
        select(low, choices.subList(span, choices.size())));
  }

  int[] muxAll(int select, int[] whenZero, int[] whenOne) {
    int[] bits = new int[whenZero.length];
    for (int i = 0; i < bits.length; i++) {
      bits[i] = gates.lut(MUX, whenZero[i], whenOne[i], select);
    }
    return bits;
  }

  private int[] lookup(int[] address, Contents contents) {
    int[] bits = new int[contents.dataBits()];
    if (address.length <= Math.min(lutInputs, LutNetwork.MOST_FAN_INS)) {
      for (int bit = 0; bit < bits.length; bit++) {
        bits[bit] = gates.lut(table(contents, bit), address);
      }
      return bits;
    }
    int filled = 0;
    for (LutNetwork part : lookups.computeIfAbsent(contents, GateNetwork::made)) {
      int[] copied = gates.append(part, address);
      System.arraycopy(copied, 0, bits, filled, copied.length);
      filled += copied.length;
    }
    return bits;
  }

  private static TruthTable table(Contents contents, int bit) {
    return TruthTable.of(
        contents.addressBits(), address -> (contents.word(address) >> bit & 1) != 0);
  }

  /** Makes the gates of a table, some outputs at a time. */
  private static List<LutNetwork> made(Contents contents) {
    List<TruthTable> tables = new ArrayList<>();
    for (int bit = 0; bit < contents.dataBits(); bit++) {
      tables.add(table(contents, bit));
    }
    List<LutNetwork> parts = new ArrayList<>();
    for (int from = 0; from < tables.size(); from += TruthTables.MOST_OUTPUTS) {
      int to = Math.min(tables.size(), from + TruthTables.MOST_OUTPUTS);
      parts.add(TableGates.of(TruthTables.of(tables.subList(from, to))));
    }
    return parts;
  }
}

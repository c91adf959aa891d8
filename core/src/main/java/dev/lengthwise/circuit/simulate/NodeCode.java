package dev.lengthwise.circuit.simulate;

import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.util.Arrays;
import java.util.List;
import java.util.function.Function;
import java.util.function.ToIntFunction;

/** Translates combinational nodes into instructions of a {@link Program}. */
final class NodeCode {

  private final Flattener flattener;
  private int[] code = new int[256];
  private int length;

  NodeCode(Flattener flattener) {
    this.flattener = flattener;
  }

  int[] code() {
    return Arrays.copyOf(code, length);
  }

  private void emit(int... parts) {
    if (length + parts.length > code.length) {
      code = Arrays.copyOf(code, 2 * (length + parts.length));
    }
    System.arraycopy(parts, 0, code, length, parts.length);
    length += parts.length;
  }

  /** Adds the instructions of a node; registers and registered reads have none. */
  void add(Node node, int to, ToIntFunction<Signal> place, Function<Memory, Integer> memory) {
    node.accept(new Instructions(to, place, memory));
  }

  /** Adds the instructions of each kind, at a place for the result. */
  private final class Instructions implements Node.Visitor<Void> {

    private final int to;
    private final ToIntFunction<Signal> place;
    private final Function<Memory, Integer> memory;

    Instructions(int to, ToIntFunction<Signal> place, Function<Memory, Integer> memory) {
      this.to = to;
      this.place = place;
      this.memory = memory;
    }

    @Override
    public Void slice(Node.Slice slice) {
      NodeCode.this.slice(slice, to, place.applyAsInt(slice.source()));
      return null;
    }

    @Override
    public Void concat(Node.Concat concat) {
      NodeCode.this.concat(concat, to, place);
      return null;
    }

    @Override
    public Void not(Node.Not not) {
      for (int i = 0; i < Flattener.words(not.width()); i++) {
        emit(Program.NOT, to + i, place.applyAsInt(not.source()) + i, mask(not.width(), i));
      }
      return null;
    }

    @Override
    public Void bitwise(Node.Bitwise bitwise) {
      NodeCode.this.bitwise(bitwise, to, place);
      return null;
    }

    @Override
    public Void reduce(Node.Reduce reduce) {
      NodeCode.this.reduce(reduce, to, place.applyAsInt(reduce.source()));
      return null;
    }

    @Override
    public Void sum(Node.Sum sum) {
      emit(
          sum.subtract() ? Program.SUBTRACT : Program.ADD,
          to,
          Flattener.words(sum.width()),
          place.applyAsInt(sum.left()),
          Flattener.words(sum.left().width()),
          place.applyAsInt(sum.right()),
          Flattener.words(sum.right().width()),
          flattener.maskOfLastWord(sum.width()));
      return null;
    }

    @Override
    public Void compare(Node.Compare compare) {
      emit(
          compare.equal() ? Program.EQUAL : Program.LESS,
          to,
          place.applyAsInt(compare.left()),
          place.applyAsInt(compare.right()),
          Flattener.words(compare.left().width()));
      return null;
    }

    @Override
    public Void select(Node.Select select) {
      NodeCode.this.select(select, to, place);
      return null;
    }

    @Override
    public Void lookup(Node.Lookup lookup) {
      int table = flattener.table(lookup.contents());
      emit(Program.LOOKUP, to, place.applyAsInt(lookup.address()), table);
      return null;
    }

    @Override
    public Void directRead(Node.DirectRead read) {
      int address = place.applyAsInt(read.address());
      emit(Program.READ, to, Flattener.words(read.width()), address, memory.apply(read.memory()));
      return null;
    }

    @Override
    public Void register(Node.Register register) {
      return null; // state, set at the end of the cycle
    }

    @Override
    public Void registeredRead(Node.RegisteredRead read) {
      return null; // state as well
    }

    @Override
    public Void input(Node.Input input) {
      throw placed(input);
    }

    @Override
    public Void constant(Node.Constant constant) {
      throw placed(constant);
    }

    @Override
    public Void instanceOutput(Node.InstanceOutput output) {
      throw placed(output);
    }

    private IllegalStateException placed(Node node) {
      return new IllegalStateException(
          "simulator: a node that computes is expected, found " + node);
    }
  }

  /** Returns the mask of a word of a signal. */
  private int mask(int width, int word) {
    return flattener.maskOfLastWord(word < Flattener.words(width) - 1 ? 64 : width);
  }

  private void slice(Node.Slice slice, int to, int from) {
    for (int i = 0; i < Flattener.words(slice.width()); i++) {
      int low = slice.low() + 64 * i;
      int high = Math.min(slice.low() + slice.width(), low + 64) - 1;
      emit(
          low / 64 == high / 64 ? Program.SLICE : Program.SLICE_ACROSS,
          to + i,
          from + low / 64,
          low % 64,
          mask(slice.width(), i));
    }
  }

  private void concat(Node.Concat concat, int to, ToIntFunction<Signal> place) {
    for (int word = 0; word < Flattener.words(concat.width()); word++) {
      int[] parts = new int[2 * concat.parts().size() + 2 * Flattener.words(concat.width())];
      int count = 0;
      int low = 0;
      for (Signal part : concat.parts()) {
        for (int i = 0; i < Flattener.words(part.width()); i++) {
          int shift = low + 64 * i - 64 * word;
          int bits = Math.min(64, part.width() - 64 * i);
          if (shift < 64 && shift + bits > 0) {
            parts[count++] = place.applyAsInt(part) + i;
            parts[count++] = shift;
          }
        }
        low += part.width();
      }
      emit(Program.GATHER, to + word, count / 2);
      emit(Arrays.copyOf(parts, count));
    }
  }

  private void bitwise(Node.Bitwise node, int to, ToIntFunction<Signal> place) {
    List<Signal> operands = node.operands();
    int operation =
        switch (node.operation()) {
          case AND -> Program.AND;
          case OR -> Program.OR;
          case XOR -> Program.XOR;
        };
    for (int i = 0; i < Flattener.words(node.width()); i++) {
      int word = i;
      emit(operation, to + i, operands.size());
      emit(operands.stream().mapToInt(s -> place.applyAsInt(s) + word).toArray());
    }
  }

  private void reduce(Node.Reduce reduce, int to, int from) {
    int words = Flattener.words(reduce.source().width());
    switch (reduce.operation()) {
      case AND -> {
        int mask = flattener.maskOfLastWord(reduce.source().width());
        emit(Program.ALL, to, from, words, mask);
      }
      case OR -> emit(Program.ANY, to, from, words);
      case XOR -> emit(Program.PARITY, to, from, words);
    }
  }

  private void select(Node.Select select, int to, ToIntFunction<Signal> place) {
    emit(
        Program.SELECT,
        to,
        Flattener.words(select.width()),
        place.applyAsInt(select.index()),
        Flattener.words(select.index().width()),
        select.choices().size());
    emit(select.choices().stream().mapToInt(place).toArray());
  }
}

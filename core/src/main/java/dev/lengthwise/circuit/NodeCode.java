package dev.lengthwise.circuit;

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

  /** Adds the instructions of a node; registers and synchronous reads have none. */
  void add(Node node, int to, ToIntFunction<Signal> place, Function<Memory, Integer> memory) {
    if (node instanceof Node.Slice slice) {
      slice(slice, to, place.applyAsInt(slice.source()));
    } else if (node instanceof Node.Concat concat) {
      concat(concat, to, place);
    } else if (node instanceof Node.Not not) {
      for (int i = 0; i < Flattener.words(not.width()); i++) {
        emit(Program.NOT, to + i, place.applyAsInt(not.source()) + i, mask(not.width(), i));
      }
    } else if (node instanceof Node.Bitwise bitwise) {
      bitwise(bitwise, to, place);
    } else if (node instanceof Node.Reduce reduce) {
      reduce(reduce, to, place.applyAsInt(reduce.source()));
    } else if (node instanceof Node.Sum sum) {
      emit(
          sum.subtract() ? Program.SUBTRACT : Program.ADD,
          to,
          Flattener.words(sum.width()),
          place.applyAsInt(sum.left()),
          Flattener.words(sum.left().width()),
          place.applyAsInt(sum.right()),
          Flattener.words(sum.right().width()),
          flattener.maskOfLastWord(sum.width()));
    } else if (node instanceof Node.Compare compare) {
      emit(
          compare.equal() ? Program.EQUAL : Program.LESS,
          to,
          place.applyAsInt(compare.left()),
          place.applyAsInt(compare.right()),
          Flattener.words(compare.left().width()));
    } else if (node instanceof Node.Select select) {
      select(select, to, place);
    } else if (node instanceof Node.Lookup lookup) {
      int table = flattener.table(lookup.contents());
      emit(Program.LOOKUP, to, place.applyAsInt(lookup.address()), table);
    } else if (node instanceof Node.DirectRead read) {
      int address = place.applyAsInt(read.address());
      emit(Program.READ, to, Flattener.words(read.width()), address, memory.apply(read.memory()));
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

package dev.lengthwise.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Chosen opcodes that wait for their row.
 *
 * @param <B> the list that the row goes to
 */
public final class RowStep<B> {

  private final RowList<B> list;

  RowStep(RowList<B> list) {
    this.list = list;
  }

  /**
   * States an instruction of so many bytes.
   *
   * @param bytes the bytes from the first opcode byte on, a specifier byte counted, in [1, {@value
   *     Row#LONGEST}]
   * @return the list
   * @throws IllegalArgumentException if {@code bytes} is out of range
   */
  public B bytes(int bytes) {
    return list.add(new Row.Instruction(bytes, List.of(), Optional.empty()));
  }

  /**
   * States that the next code unit is looked up in another map.
   *
   * @param map the map's name
   * @return the list
   * @throws IllegalArgumentException if the name is not legal
   */
  public B escape(String map) {
    return escape(map, 0);
  }

  /**
   * States that a later code unit is looked up in another map.
   *
   * @param map the map's name
   * @param skip the bytes between this unit and that one, in [0, 3]
   * @return the list
   * @throws IllegalArgumentException if the name is not legal or {@code skip} out of range
   */
  public B escape(String map, int skip) {
    return list.add(new Row.Escape(map, skip));
  }

  /**
   * States that no instruction has these opcodes.
   *
   * @return the list
   */
  public B undefined() {
    return list.add(new Row.Undefined());
  }

  /**
   * States rows that depend on the byte after the opcode.
   *
   * @param rows writes the cases
   * @return the list
   * @throws IllegalStateException if this row is itself such a case
   */
  public B byNextByte(Consumer<NextByteRows> rows) {
    Objects.requireNonNull(rows, "rows");
    if (list instanceof NextByteRows) {
      throw new IllegalStateException(
          list.subject() + ": a case of the next byte cannot depend on it again, found byNextByte");
    }
    NextByteRows cases = new NextByteRows(list.subject());
    rows.accept(cases);
    return list.add(cases.toRow());
  }

  /** The rows of one opcode, by the byte after it. */
  public static final class NextByteRows extends RowList<NextByteRows> {

    private final List<Optional<BitPattern>> patterns = new ArrayList<>();

    NextByteRows(String subject) {
      super(subject);
    }

    @Override
    NextByteRows self() {
      return this;
    }

    /**
     * Chooses the bytes that match a pattern.
     *
     * @param pattern an 8-bit pattern
     * @return a step that takes their row
     * @throws IllegalArgumentException if the pattern is malformed
     * @throws IllegalStateException if {@link #others()} was called before
     */
    public RowStep<NextByteRows> when(String pattern) {
      BitPattern parsed = BitPattern.parse(pattern);
      if (parsed.width() != 8) {
        throw new IllegalArgumentException(
            subject() + ": a pattern of the next byte must be 8 bits wide, found " + parsed);
      }
      return choose(Optional.of(parsed));
    }

    /**
     * Chooses all bytes that no other case names; the last case.
     *
     * @return a step that takes their row
     * @throws IllegalStateException if it was called before
     */
    public RowStep<NextByteRows> others() {
      return choose(Optional.empty());
    }

    private RowStep<NextByteRows> choose(Optional<BitPattern> pattern) {
      if (patterns.size() != rows().size()) {
        throw new IllegalStateException(
            subject() + ": a pattern of the next byte needs a row, found none");
      }
      if (!patterns.isEmpty() && patterns.get(patterns.size() - 1).isEmpty()) {
        throw new IllegalStateException(subject() + ": others comes last, found a case after it");
      }
      patterns.add(pattern);
      return new RowStep<>(this);
    }

    Row.ByNextByte toRow() {
      if (patterns.size() != rows().size()) {
        throw new IllegalStateException(
            subject() + ": a pattern of the next byte needs a row, found none");
      }
      List<Row.ByNextByte.Case> cases = new ArrayList<>();
      for (int i = 0; i < patterns.size(); i++) {
        cases.add(new Row.ByNextByte.Case(patterns.get(i), rows().get(i)));
      }
      return new Row.ByNextByte(cases);
    }
  }
}

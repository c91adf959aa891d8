package dev.lengthwise.table;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import java.util.function.Consumer;

/**
 * Chosen opcodes that wait for their row.
 *
 * @param <B> the list that the row goes to
 */
public final class RowStep<B extends RowList<B>> {

  private final B list;

  RowStep(B list) {
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
}

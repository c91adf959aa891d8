package dev.lengthwise.table;

import dev.lengthwise.name.HdlName;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

/**
 * A list of rows being written: an opcode's map, or the cases of the byte after an opcode.
 *
 * @param <B> the kind of list
 */
abstract sealed class RowList<B> permits OpcodeMap.Builder, RowStep.NextByteRows {

  private final String subject;
  private final List<Row> rows = new ArrayList<>();

  RowList(String subject) {
    this.subject = subject;
  }

  abstract B self();

  final String subject() {
    return subject;
  }

  final List<Row> rows() {
    return rows;
  }

  final B add(Row row) {
    rows.add(row);
    return self();
  }

  /**
   * Gives the last row an operand specifier directly after its opcode; the row's bytes count it.
   *
   * @param specifier the specifier
   * @return this list
   * @throws IllegalStateException if the last row is no instruction or has a specifier already
   */
  public final B specifier(OperandSpecifier specifier) {
    Objects.requireNonNull(specifier, "specifier");
    Row.Instruction last = last("specifier");
    if (last.specifier().isPresent()) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "%s: a row has at most one specifier, found %s after %s",
              subject,
              specifier.name(),
              last.specifier().get().name()));
    }
    return replaceLast(new Row.Instruction(last.bytes(), last.growths(), Optional.of(specifier)));
  }

  /**
   * Makes the last row longer, or shorter, while a mode is 1.
   *
   * @param mode the mode's name
   * @param bytes the bytes to add, in [-{@value Row#LONGEST}, {@value Row#LONGEST}], not 0
   * @return this list
   * @throws IllegalArgumentException if the name is not legal or {@code bytes} out of range
   * @throws IllegalStateException if the last row is no instruction
   */
  public final B grows(String mode, int bytes) {
    return grows(ModeCondition.on(HdlName.require("mode", mode)), bytes);
  }

  /**
   * Makes the last row longer, or shorter, while a condition on modes holds.
   *
   * @param when the condition
   * @param bytes the bytes to add, in [-{@value Row#LONGEST}, {@value Row#LONGEST}], not 0
   * @return this list
   * @throws IllegalArgumentException if {@code bytes} is out of range
   * @throws IllegalStateException if the last row is no instruction
   */
  public final B grows(ModeCondition when, int bytes) {
    Row.Instruction last = last("growth");
    List<Row.Growth> growths = new ArrayList<>(last.growths());
    growths.add(new Row.Growth(when, bytes));
    return replaceLast(new Row.Instruction(last.bytes(), growths, last.specifier()));
  }

  private Row.Instruction last(String what) {
    if (!rows.isEmpty() && rows.get(rows.size() - 1) instanceof Row.Instruction instruction) {
      return instruction;
    }
    throw new IllegalStateException(
        String.format(
            Locale.ROOT,
            "%s: a %s follows a row of bytes, found %s",
            subject,
            what,
            rows.isEmpty() ? "no row" : rows.get(rows.size() - 1)));
  }

  private B replaceLast(Row row) {
    rows.set(rows.size() - 1, row);
    return self();
  }
}

package dev.lengthwise.table;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The rows of one opcode, by the byte after it. */
public final class NextByteRows extends RowList<NextByteRows> {

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

package dev.lengthwise.golden;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import java.util.Objects;

/**
 * Computes the lengths that an instruction set gives to bytes in memory.
 *
 * <p>Immutable and safe for use by several threads.
 */
public final class GoldenModel {

  private static final int UNDEFINED = Outcome.UNDEFINED.packed();
  private static final int TOO_FEW_BYTES = Outcome.TOO_FEW_BYTES.packed();
  private static final int TOO_MANY_PREFIXES = Outcome.TOO_MANY_PREFIXES.packed();
  private static final int TOO_LONG = Outcome.TOO_LONG.packed();

  private final InstructionSet instructionSet;
  private final CodeUnit unit;
  private final int unitBytes;
  private final int longest;
  private final int mostPrefixes;
  private final PrefixRules.Prefix[] prefixes;
  private final List<String> modeNames;
  private final FlatTable table;

  private GoldenModel(InstructionSet instructionSet) {
    this.instructionSet = instructionSet;
    this.unit = instructionSet.table().unit();
    this.unitBytes = unit.bytes();
    this.longest = instructionSet.longest();
    this.mostPrefixes = instructionSet.prefixes().most();
    this.modeNames = instructionSet.table().modes();
    this.prefixes = new PrefixRules.Prefix[unit.codes()];
    instructionSet.prefixes().prefixes().forEach((code, prefix) -> prefixes[code] = prefix);
    this.table = new FlatTable(instructionSet.table());
  }

  /**
   * Compiles a description.
   *
   * @param instructionSet the description
   * @return its model
   */
  public static GoldenModel of(InstructionSet instructionSet) {
    return new GoldenModel(Objects.requireNonNull(instructionSet, "instructionSet"));
  }

  /**
   * Returns the description that the model was compiled from.
   *
   * @return the description
   */
  public InstructionSet instructionSet() {
    return instructionSet;
  }

  /**
   * Returns the length of the instruction at an offset, all bytes of the array given.
   *
   * @param memory the bytes
   * @param offset where the instruction starts, in [0, memory.length]
   * @param modes the modes before the first prefix; mode i is bit i
   * @return as {@link #lengthAt(byte[], int, int, int)}
   * @throws IndexOutOfBoundsException if the offset is out of range
   */
  public int lengthAt(byte[] memory, int offset, int modes) {
    return lengthAt(memory, offset, memory.length, modes);
  }

  /**
   * Returns the length of the instruction at an offset.
   *
   * @param memory the bytes
   * @param offset where the instruction starts, in [0, end]
   * @param end where the bytes given end, in [0, memory.length]
   * @param modes the modes before the first prefix; mode i is bit i
   * @return the length with prefixes in bytes, in [1, longest]; or, not positive, an outcome that
   *     {@link Outcome#of} names
   * @throws IndexOutOfBoundsException if the offset or the end is out of range
   */
  public int lengthAt(byte[] memory, int offset, int end, int modes) {
    Objects.checkFromToIndex(offset, end, memory.length);
    int current = modes;
    int cursor = offset;
    int count = 0;
    while (true) {
      if (cursor - offset >= longest) {
        return TOO_LONG;
      }
      if (cursor + unitBytes > end) {
        return TOO_FEW_BYTES;
      }
      PrefixRules.Prefix prefix = prefixes[unit.read(memory, cursor)];
      if (prefix == null) {
        break;
      }
      if (++count > mostPrefixes) {
        return TOO_MANY_PREFIXES;
      }
      current = prefix.apply(modeNames, modes, current);
      cursor += unitBytes;
    }
    int length = table.lengthAt(memory, cursor, end, current);
    if (length <= 0) {
      return length == FlatTable.UNDEFINED ? UNDEFINED : TOO_FEW_BYTES;
    }
    length += cursor - offset;
    if (length > longest) {
      return TOO_LONG;
    }
    return offset + length > end ? TOO_FEW_BYTES : length;
  }

  /**
   * Finds where instructions start, one after the other, until one has no length.
   *
   * @param memory the bytes
   * @param start where the first instruction starts, in [0, memory.length]
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @return the boundaries up to the first place without a length, or up to the end
   * @throws IndexOutOfBoundsException if the start is out of range
   */
  public Boundaries boundaries(byte[] memory, int start, int modes) {
    Objects.checkFromToIndex(start, memory.length, memory.length);
    Boundaries.Collector found = new Boundaries.Collector();
    int offset = start;
    while (offset < memory.length) {
      int length = lengthAt(memory, offset, memory.length, modes);
      if (length <= 0) {
        return found.stoppedAt(offset, Outcome.of(length));
      }
      found.add(offset);
      offset += length;
    }
    return found.stoppedAt(offset, Outcome.LENGTH);
  }
}

package dev.lengthwise.golden;

import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import java.util.Locale;
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
  private final int noModes;
  private final FlatTable table;

  private GoldenModel(InstructionSet instructionSet) {
    this.instructionSet = instructionSet;
    this.unit = instructionSet.table().unit();
    this.unitBytes = unit.bytes();
    this.longest = instructionSet.longest();
    this.mostPrefixes = instructionSet.prefixes().most();
    this.modeNames = instructionSet.table().modes();
    this.noModes = -1 << modeNames.size();
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
   * @param modes as {@link #lengthAt(int, byte[], int, int)}
   * @param memory the bytes
   * @param offset where the instruction starts, in [0, memory.length]
   * @return as {@link #lengthAt(int, byte[], int, int)}
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the offset is out of range
   */
  public int lengthAt(int modes, byte[] memory, int offset) {
    return lengthAt(modes, memory, offset, memory.length);
  }

  /**
   * Returns the length of the instruction at an offset.
   *
   * @param modes the modes before the first prefix; mode i is bit i
   * @param memory the bytes
   * @param offset where the instruction starts, in [0, end]
   * @param end where the bytes given end, in [0, memory.length]
   * @return the length with prefixes in bytes, in [1, longest]; or, not positive, an outcome that
   *     {@link Outcome#of} names
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the offset or the end is out of range
   */
  public int lengthAt(int modes, byte[] memory, int offset, int end) {
    check(modes, memory, offset, end);
    return length(modes, memory, offset, end);
  }

  /** Small, so that it costs a loop of calls nothing. */
  private void check(int modes, byte[] memory, int offset, int end) {
    if ((modes & noModes) != 0 || (offset | end - offset | memory.length - end) < 0) {
      refuse(modes, memory, offset, end);
    }
  }

  private void refuse(int modes, byte[] memory, int offset, int end) {
    instructionSet.table().requireModes(modes);
    throw new IndexOutOfBoundsException(
        String.format(
            Locale.ROOT,
            "bytes for %s: offset and end must ascend in [0, %d], found %d and %d",
            instructionSet.table().name(),
            memory.length,
            offset,
            end));
  }

  /** Sums are formed so that none exceeds the end, which may be near the largest int. */
  private int length(int modes, byte[] memory, int offset, int end) {
    int current = modes;
    int cursor = offset;
    int count = 0;
    while (true) {
      if (cursor - offset >= longest) {
        return TOO_LONG;
      }
      if (end - cursor < unitBytes) {
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
    return length > end - offset ? TOO_FEW_BYTES : length;
  }

  /**
   * Finds where instructions start, one after the other, until one has no length.
   *
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param memory the bytes
   * @param start where the first instruction starts, in [0, end]
   * @param end where the bytes given end, in [0, memory.length]
   * @return the boundaries up to the first place without a length, or up to the end
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the start or the end is out of range
   */
  public Boundaries boundaries(int modes, byte[] memory, int start, int end) {
    return boundaries(modes, memory, start, end, false);
  }

  /**
   * Finds where instructions start in bytes that hold data too: where a code unit starts no
   * instruction it is passed over, and the next one is tried.
   *
   * <p>Data may look like instructions, and swallow the start of the first one behind them; that is
   * in the nature of a linear sweep.
   *
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param memory the bytes
   * @param start where the first instruction or datum starts, in [0, end]
   * @param end where the bytes given end, in [0, memory.length]
   * @return the boundaries up to the end
   * @throws IllegalArgumentException if there is no such mode
   * @throws IndexOutOfBoundsException if the start or the end is out of range
   */
  public Boundaries boundariesAmongData(int modes, byte[] memory, int start, int end) {
    return boundaries(modes, memory, start, end, true);
  }

  private Boundaries boundaries(int modes, byte[] memory, int start, int end, boolean goesOn) {
    check(modes, memory, start, end);
    Boundaries.Collector found = new Boundaries.Collector(start);
    int offset = start;
    while (offset < end) {
      int length = length(modes, memory, offset, end);
      if (length > 0) {
        found.add(offset, length);
        offset += length;
      } else {
        found.none(Outcome.of(length));
        if (!goesOn) {
          break;
        }
        offset += Math.min(unitBytes, end - offset);
      }
    }
    return found.boundaries();
  }
}

package dev.lengthwise.logic.support;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.OutputWords;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/**
 * Finds the inputs that outputs with don't-cares can do without.
 *
 * <p>Answers the first question about an opcode map: which opcode bit would be removable but for
 * which rows? Several outputs are taken together; for one output alone give one table.
 */
public final class SupportReducer {

  private static final long WORK = 400_000_000;
  private static final long QUICK_WORK = 2_000_000;

  private SupportReducer() {}

  /**
   * Analyses the inputs.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs
   * @return the conflicts of each input and the smallest sets of inputs
   * @throws IllegalArgumentException if there are no or too many tables or their inputs differ
   */
  public static SupportReport analyze(List<TruthTable> tables) {
    OutputWords spec = OutputWords.of(tables);
    List<SupportInput> each = new ArrayList<>();
    for (int i = 0; i < spec.inputs(); i++) {
      each.add(new SupportInput(i, conflicts(spec, i)));
    }
    SupportSearch search = new SupportSearch(spec, WORK, /* all= */ true);
    List<Integer> minimum = search.smallest();
    return new SupportReport(spec.inputs(), each, minimum, search.complete());
  }

  /** Returns one smallest sufficient set of inputs, or a small one if the search is long. */
  public static int smallest(List<TruthTable> tables) {
    return new SupportSearch(OutputWords.of(tables), QUICK_WORK, /* all= */ false)
        .smallest()
        .get(0);
  }

  /**
   * Restates tables over some of their inputs.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs
   * @param kept the inputs to keep, one bit an input; the lowest becomes input 0
   * @return one table an output; a point is a don't-care if all points it stands for are
   * @throws IllegalArgumentException if {@code kept} names an input that there is not
   * @throws IllegalStateException if two points that must differ become one
   */
  public static List<TruthTable> restrict(List<TruthTable> tables, int kept) {
    OutputWords spec = OutputWords.of(tables);
    if (kept >>> spec.inputs() != 0) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "support: the kept inputs must be of the %d inputs, found 0x%x",
              spec.inputs(),
              kept));
    }
    List<TruthTable> restricted = new ArrayList<>();
    for (TruthTable table : tables) {
      restricted.add(restrict(table, kept));
    }
    return List.copyOf(restricted);
  }

  private static TruthTable restrict(TruthTable table, int kept) {
    int[] seen = new int[1 << Integer.bitCount(kept)];
    for (int p = 0; p < 1 << table.inputs(); p++) {
      if (table.isCare(p)) {
        seen[gather(p, kept)] |= table.isOn(p) ? 2 : 1;
      }
    }
    for (int q = 0; q < seen.length; q++) {
      if (seen[q] == 3) {
        throw new IllegalStateException(
            String.format(
                Locale.ROOT,
                "support: the kept inputs must tell apart what differs, found 0x%x of inputs 0x%x"
                    + " both 0 and 1",
                q,
                kept));
      }
    }
    return TruthTable.of(Integer.bitCount(kept), q -> seen[q] == 2, q -> seen[q] != 0);
  }

  /** Returns the bits of {@code point} at {@code kept}, packed together. */
  public static int gather(int point, int kept) {
    int result = 0;
    int at = 0;
    for (int left = kept; left != 0; left &= left - 1) {
      result |= (point >>> Integer.numberOfTrailingZeros(left) & 1) << at++;
    }
    return result;
  }

  /** Returns a point whose bits at {@code kept} are the packed bits, all others 0. */
  public static int scatter(int packed, int kept) {
    int result = 0;
    int at = 0;
    for (int left = kept; left != 0; left &= left - 1) {
      result |= (packed >>> at++ & 1) << Integer.numberOfTrailingZeros(left);
    }
    return result;
  }

  private static List<SupportConflict> conflicts(OutputWords spec, int input) {
    List<SupportConflict> conflicts = new ArrayList<>();
    int bit = 1 << input;
    for (int low = 0; low < spec.points(); low++) {
      int high = low | bit;
      if (low == high) {
        continue;
      }
      long outputs =
          (spec.needed(low) & ~spec.allowed(high)) | (spec.needed(high) & ~spec.allowed(low));
      if (outputs != 0) {
        conflicts.add(new SupportConflict(low, high, outputs));
      }
    }
    return conflicts;
  }
}

package dev.lengthwise.lane.compose;

import dev.lengthwise.lane.function.HandledRows;
import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.BitSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.IntPredicate;
import java.util.stream.IntStream;

/**
 * How one map tells whether its rows are handled.
 *
 * <p>Most codes are handled, or not, for a whole half of the bytes behind them: one half is that
 * which most codes ask about, as of an operand in memory. The others are {@linkplain #special
 * special}, and get a table of their own that matters for them only.
 */
final class HandledStage {

  /** An answer within a half that is both. */
  private static final int MIXED = 2;

  private final int[][] answers;
  private final BitSet half;
  private final int[] within = new int[256];
  private final int[] outside = new int[256];
  private final boolean[] special = new boolean[256];

  HandledStage(int[][] answers) {
    this.answers = answers;
    this.half = commonHalf(answers);
    for (int code = 0; code < 256; code++) {
      within[code] = common(answers[code], half::get);
      outside[code] = common(answers[code], next -> !half.get(next));
      special[code] = within[code] == MIXED || outside[code] == MIXED;
    }
  }

  /** Returns the set of bytes behind that most codes are handled for alone, or not handled. */
  private static BitSet commonHalf(int[][] answers) {
    Map<BitSet, Integer> halves = new LinkedHashMap<>();
    for (int[] row : answers) {
      BitSet handled = new BitSet();
      boolean clear = true;
      for (int next = 0; next < 256; next++) {
        clear &= row[next] == HandledRows.YES || row[next] == HandledRows.NO;
        handled.set(next, row[next] == HandledRows.YES);
      }
      if (handled.get(0)) {
        handled.flip(0, 256);
      }
      if (clear && !handled.isEmpty()) {
        halves.merge(handled, 1, Integer::sum);
      }
    }
    BitSet best = new BitSet();
    int most = 0;
    for (Map.Entry<BitSet, Integer> entry : halves.entrySet()) {
      if (entry.getValue() > most) {
        most = entry.getValue();
        best = entry.getKey();
      }
    }
    return best;
  }

  private static int common(int[] row, IntPredicate in) {
    int result = HandledRows.OPEN;
    for (int next = 0; next < 256; next++) {
      int answer = row[next];
      if (in.test(next) && (answer == HandledRows.YES || answer == HandledRows.NO)) {
        if (result != HandledRows.OPEN && result != answer) {
          return MIXED;
        }
        result = answer;
      }
    }
    return result;
  }

  /** Tells whether some codes ask about more than the half. */
  boolean hasSpecial() {
    return IntStream.range(0, 256).anyMatch(code -> special[code]);
  }

  /** Returns the half as a table of the byte behind; it is nowhere 1 if no code asks for one. */
  TruthTable half() {
    return TruthTable.of(8, half::get);
  }

  /**
   * Returns tables of the code: handled outside the half, within it, special; those that there is
   * no need for are left out.
   */
  List<TruthTable> ofCode() {
    List<TruthTable> tables = new ArrayList<>();
    tables.add(decided(outside));
    if (!half.isEmpty()) {
      tables.add(decided(within));
    }
    if (hasSpecial()) {
      tables.add(TruthTable.of(8, code -> special[code], code -> special[code] || isOwn(code)));
    }
    return tables;
  }

  private TruthTable decided(int[] answer) {
    return TruthTable.of(
        8,
        code -> answer[code] == HandledRows.YES,
        code -> !special[code] && answer[code] != HandledRows.OPEN);
  }

  /** Tells whether the map itself answers for some byte behind a code. */
  private boolean isOwn(int code) {
    return within[code] != HandledRows.OPEN || outside[code] != HandledRows.OPEN;
  }

  /** Returns the table of special codes: bits 0 to 7 are the code, the others the byte behind. */
  TruthTable special() {
    return table(
        answer -> answer == HandledRows.YES,
        answer -> answer == HandledRows.YES || answer == HandledRows.NO,
        code -> special[code]);
  }

  /** Returns a bit of the number of the map that is to answer: 0 for this one, then the others. */
  TruthTable chooses(List<Integer> further, int bit) {
    return table(
        answer -> (further.indexOf(HandledRows.furtherMap(answer)) + 1 >> bit & 1) != 0,
        answer -> answer != HandledRows.OPEN,
        code -> true);
  }

  private TruthTable table(IntPredicate on, IntPredicate care, IntPredicate codes) {
    return TruthTable.of(
        16,
        point -> on.test(answers[point & 0xff][point >> 8]),
        point -> codes.test(point & 0xff) && care.test(answers[point & 0xff][point >> 8]));
  }
}

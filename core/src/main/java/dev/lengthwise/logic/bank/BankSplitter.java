package dev.lengthwise.logic.bank;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.support.SupportReducer;
import dev.lengthwise.logic.twolevel.TwoLevelMinimizer;
import dev.lengthwise.logic.twolevel.TwoLevelResult;
import dev.lengthwise.logic.words.OutputWords;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;

/**
 * Splits a table into banks that need few inputs each.
 *
 * <p>Some inputs select a bank. Each bank is minimised by itself, in inputs and in product terms;
 * banks that fit into one LUT together are grouped, and banks that are a constant or a single input
 * are folded into the selecting multiplexer. Immutable and deterministic.
 */
public final class BankSplitter {

  /** The most inputs of a table to be split. */
  public static final int MOST_INPUTS = 12;

  /** The most inputs that select a bank. */
  public static final int MOST_SELECT_BITS = 6;

  private static final int MOST_DETAILED = 6;

  private final int lutInputs;

  private BankSplitter(int lutInputs) {
    this.lutInputs = lutInputs;
  }

  /**
   * Returns a splitter for LUTs of a size.
   *
   * @param lutInputs the inputs of a LUT, in [2, 8]
   * @return the splitter
   * @throws IllegalArgumentException if the size is out of range
   */
  public static BankSplitter forLuts(int lutInputs) {
    if (lutInputs < 2 || lutInputs > 8) {
      throw new IllegalArgumentException(
          "bank splitter: the inputs of a lut must be in [2, 8], found " + lutInputs);
    }
    return new BankSplitter(lutInputs);
  }

  /**
   * Splits by given inputs.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs
   * @param select the inputs that select a bank, one bit an input; 1 to {@value #MOST_SELECT_BITS}
   *     of them
   * @return the plan
   * @throws IllegalArgumentException if the tables do not fit together or have more than {@value
   *     #MOST_INPUTS} inputs, or {@code select} is no such set
   */
  public BankPlan split(List<TruthTable> tables, int select) {
    int inputs = checkInputs(tables);
    int bits = Integer.bitCount(select);
    if (select >>> inputs != 0 || bits < 1 || bits > MOST_SELECT_BITS) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "bank splitter: the selecting inputs must be 1 to %d of the %d inputs, found 0x%x",
              MOST_SELECT_BITS,
              inputs,
              select));
    }
    List<Bank> banks = new ArrayList<>();
    for (int code = 0; code < 1 << bits; code++) {
      banks.add(bank(tables, select, code));
    }
    List<BankOutput> outputs = outputs(tables, select);
    return new BankPlan(inputs, select, banks, outputs, estimate(outputs, bits));
  }

  /**
   * Splits by the inputs that are estimated to cost the fewest LUTs; of equals, the fewest
   * selecting inputs, then the lowest.
   *
   * @param tables one table an output, 1 to 64, all of the same inputs, at least one
   * @param mostSelectBits the most inputs that may select, in [1, {@value #MOST_SELECT_BITS}]
   * @return the plan
   * @throws IllegalArgumentException if the tables do not fit together or have no or more than
   *     {@value #MOST_INPUTS} inputs, or the number is out of range
   */
  public BankPlan best(List<TruthTable> tables, int mostSelectBits) {
    int inputs = checkInputs(tables);
    if (inputs < 1 || mostSelectBits < 1 || mostSelectBits > MOST_SELECT_BITS) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "bank splitter: at least 1 input and 1 to %d selecting inputs are needed, found %d"
                  + " and %d",
              MOST_SELECT_BITS,
              inputs,
              mostSelectBits));
    }
    record Candidate(int select, long cost) {}
    List<Candidate> candidates = new ArrayList<>();
    for (int select = 1; select < 1 << inputs; select++) {
      Work.check();
      if (Integer.bitCount(select) <= mostSelectBits) {
        candidates.add(new Candidate(select, roughCost(tables, select)));
      }
    }
    candidates.sort(
        Comparator.comparingLong(Candidate::cost)
            .thenComparingInt(c -> Integer.bitCount(c.select()))
            .thenComparingInt(Candidate::select));
    int[] taken = new int[MOST_SELECT_BITS + 1];
    int best = 0;
    int bestCost = Integer.MAX_VALUE;
    for (Candidate candidate : candidates) {
      Work.check();
      int bits = Integer.bitCount(candidate.select());
      if (taken[bits]++ >= MOST_DETAILED) {
        continue;
      }
      int cost = estimate(outputs(tables, candidate.select()), bits);
      if (cost < bestCost || (cost == bestCost && isSimpler(candidate.select(), best))) {
        best = candidate.select();
        bestCost = cost;
      }
    }
    return split(tables, best);
  }

  private static boolean isSimpler(int select, int than) {
    int bits = Integer.bitCount(select);
    int otherBits = Integer.bitCount(than);
    return bits != otherBits ? bits < otherBits : select < than;
  }

  private static int checkInputs(List<TruthTable> tables) {
    int inputs = OutputWords.of(tables).inputs();
    if (inputs > MOST_INPUTS) {
      throw new IllegalArgumentException(
          "bank splitter: the number of inputs must be in [0, "
              + MOST_INPUTS
              + "], found "
              + inputs);
    }
    return inputs;
  }

  /** Counts the LUTs of all banks without grouping; cheap, to sort out hopeless choices. */
  private long roughCost(List<TruthTable> tables, int select) {
    long cost = 0;
    int bits = Integer.bitCount(select);
    for (TruthTable table : tables) {
      int pins = bits;
      for (int code = 0; code < 1 << bits; code++) {
        int support = Integer.bitCount(SupportReducer.smallest(List.of(cut(table, select, code))));
        cost += support <= 1 ? 0 : 16L * BankOutput.atLeast(support, lutInputs) + support;
        pins += support == 0 ? 0 : 1;
      }
      cost += 16L * BankOutput.atLeast(pins, lutInputs);
    }
    return cost;
  }

  private Bank bank(List<TruthTable> tables, int select, int code) {
    List<TruthTable> cuts = tables.stream().map(table -> cut(table, select, code)).toList();
    int free = ((1 << tables.get(0).inputs()) - 1) & ~select;
    int kept = SupportReducer.smallest(cuts);
    TwoLevelResult cover =
        TwoLevelMinimizer.automatic().minimize(SupportReducer.restrict(cuts, kept));
    List<BankFunction> functions = new ArrayList<>();
    for (TruthTable cut : cuts) {
      functions.add(BankFunction.smallest(cut, free));
    }
    return new Bank(code, SupportReducer.scatter(kept, free), cover, functions);
  }

  private List<BankOutput> outputs(List<TruthTable> tables, int select) {
    List<BankOutput> outputs = new ArrayList<>();
    for (TruthTable table : tables) {
      outputs.add(new BankGrouping(table, select, lutInputs).group());
    }
    return outputs;
  }

  private int estimate(List<BankOutput> outputs, int selectBits) {
    return outputs.stream().mapToInt(o -> o.estimate(selectBits, lutInputs)).sum();
  }

  /** Returns the table of one bank over the inputs that do not select. */
  static TruthTable cut(TruthTable table, int select, int code) {
    int free = ((1 << table.inputs()) - 1) & ~select;
    int fixed = SupportReducer.scatter(code, select);
    return TruthTable.of(
        Integer.bitCount(free),
        q -> table.isOn(fixed | SupportReducer.scatter(q, free)),
        q -> table.isCare(fixed | SupportReducer.scatter(q, free)));
  }
}

package dev.lengthwise.logic.bank;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.support.SupportReducer;
import java.util.List;

/**
 * One output: the groups of its banks, and what the selecting multiplexer takes for each bank.
 *
 * @param groups the functions that need LUTs
 * @param sources one source a bank, bank 0 first
 */
public record BankOutput(List<BankGroup> groups, List<BankSource> sources) {

  private static final int MOST_EXACT_PINS = 12;

  /**
   * Copies the lists.
   *
   * @param groups the functions that need LUTs
   * @param sources one source a bank, bank 0 first
   */
  public BankOutput {
    groups = List.copyOf(groups);
    sources = List.copyOf(sources);
  }

  /**
   * Returns the inputs that are folded into the multiplexer.
   *
   * @return one bit an input of the circuit
   */
  public int foldedInputs() {
    return sources.stream()
        .filter(
            source ->
                source.kind() == BankSource.Kind.INPUT
                    || source.kind() == BankSource.Kind.INVERTED_INPUT)
        .mapToInt(source -> 1 << source.index())
        .reduce(0, (a, b) -> a | b);
  }

  /**
   * Returns the multiplexer as a function of its data and selecting inputs.
   *
   * @param selectBits the number of selecting inputs
   * @return a table over, lowest first: the folded inputs, the groups, the selecting inputs
   * @throws IllegalStateException if these are more than a table may have; then the sources say all
   */
  public TruthTable multiplexer(int selectBits) {
    int folded = foldedInputs();
    int data = Integer.bitCount(folded) + groups.size();
    if (data + selectBits > TruthTable.MOST_INPUTS) {
      throw new IllegalStateException(
          "bank output: the multiplexer's table must have at most "
              + TruthTable.MOST_INPUTS
              + " inputs, found "
              + (data + selectBits));
    }
    return TruthTable.of(
        data + selectBits,
        p -> pick(p, p >>> data, folded),
        p -> sources.get(p >>> data).kind() != BankSource.Kind.FREE);
  }

  private boolean pick(int data, int code, int folded) {
    BankSource source = sources.get(code);
    int at = source.index();
    return switch (source.kind()) {
      case FREE, ZERO -> false;
      case ONE -> true;
      case INPUT -> (data >>> pin(at, folded) & 1) != 0;
      case INVERTED_INPUT -> (data >>> pin(at, folded) & 1) == 0;
      case GROUP -> (data >>> (Integer.bitCount(folded) + at) & 1) != 0;
    };
  }

  private static int pin(int input, int folded) {
    return Integer.bitCount(folded & ((1 << input) - 1));
  }

  /** Estimates the LUTs of {@code lutInputs} inputs; wide functions are counted by their bound. */
  int estimate(int selectBits, int lutInputs) {
    int luts =
        groups.stream()
            .mapToInt(g -> atLeast(Integer.bitCount(g.function().support()), lutInputs))
            .sum();
    if (groups.size() == 1 && sources.stream().allMatch(BankOutput::isGroupOrFree)) {
      return luts;
    }
    int pins = Integer.bitCount(foldedInputs()) + groups.size() + selectBits;
    if (pins <= MOST_EXACT_PINS) {
      pins = Integer.bitCount(SupportReducer.smallest(List.of(multiplexer(selectBits))));
    }
    return luts + (pins <= 1 ? 0 : atLeast(pins, lutInputs));
  }

  private static boolean isGroupOrFree(BankSource source) {
    return source.kind() == BankSource.Kind.GROUP || source.kind() == BankSource.Kind.FREE;
  }

  /** A function of n inputs takes at least (n - 1) / (K - 1) LUTs of K inputs, rounded up. */
  static int atLeast(int inputs, int lutInputs) {
    return inputs <= 1 ? inputs : (inputs - 1 + lutInputs - 2) / (lutInputs - 1);
  }

  /** Returns the multiplexer's output at a point, selecting inputs at {@code select}. */
  boolean evaluate(int point, int select) {
    BankSource source = sources.get(SupportReducer.gather(point, select));
    int at = source.index();
    return switch (source.kind()) {
      case FREE, ZERO -> false;
      case ONE -> true;
      case INPUT -> (point >>> at & 1) != 0;
      case INVERTED_INPUT -> (point >>> at & 1) == 0;
      case GROUP -> groups.get(at).function().evaluate(point);
    };
  }
}

package dev.lengthwise.logic.bank;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.support.SupportReducer;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/**
 * Groups the banks of one output into LUTs.
 *
 * <p>Banks are taken by ascending code and join the first group with which they fit one LUT; single
 * inputs and constants stay with the multiplexer, unless a group can take over every bank that uses
 * an input and so saves the multiplexer a pin.
 */
final class BankGrouping {

  private final TruthTable table;
  private final int select;
  private final int lutInputs;
  private final BankSource[] sources;
  private final List<Set<Integer>> groups = new ArrayList<>();

  BankGrouping(TruthTable table, int select, int lutInputs) {
    this.table = table;
    this.select = select;
    this.lutInputs = lutInputs;
    this.sources = new BankSource[1 << Integer.bitCount(select)];
  }

  BankOutput group() {
    Set<Integer> every = new TreeSet<>();
    for (int code = 0; code < sources.length; code++) {
      every.add(code);
    }
    int support = Integer.bitCount(function(every).support());
    if (support > 1 && support <= lutInputs) {
      groups.add(every);
    } else {
      foldAndJoin();
      absorb();
    }
    List<BankGroup> built = new ArrayList<>();
    for (int g = 0; g < groups.size(); g++) {
      for (int code : groups.get(g)) {
        sources[code] = new BankSource(BankSource.Kind.GROUP, g);
      }
      built.add(new BankGroup(List.copyOf(groups.get(g)), function(groups.get(g))));
    }
    return new BankOutput(built, Arrays.asList(sources));
  }

  private void foldAndJoin() {
    int free = ((1 << table.inputs()) - 1) & ~select;
    for (int code = 0; code < sources.length; code++) {
      BankFunction alone = BankFunction.smallest(BankSplitter.cut(table, select, code), free);
      sources[code] = folded(alone);
      if (sources[code] == null) {
        join(code);
      }
    }
  }

  /** Returns the source of a bank that needs no LUT, or null. */
  private static BankSource folded(BankFunction function) {
    TruthTable table = function.table();
    if (table.careCount() == 0) {
      return new BankSource(BankSource.Kind.FREE, 0);
    }
    return switch (table.inputs()) {
      case 0 -> new BankSource(table.isOn(0) ? BankSource.Kind.ONE : BankSource.Kind.ZERO, 0);
      case 1 ->
          new BankSource(
              table.isOn(1) ? BankSource.Kind.INPUT : BankSource.Kind.INVERTED_INPUT,
              Integer.numberOfTrailingZeros(function.support()));
      default -> null;
    };
  }

  private void join(int code) {
    if (!joinExisting(code, groups)) {
      groups.add(new TreeSet<>(Set.of(code)));
    }
  }

  private boolean joinExisting(int code, List<Set<Integer>> candidates) {
    for (Set<Integer> group : candidates) {
      Work.check();
      Set<Integer> wider = new TreeSet<>(group);
      wider.add(code);
      if (Integer.bitCount(function(wider).support()) <= lutInputs) {
        group.add(code);
        return true;
      }
    }
    return false;
  }

  private void absorb() {
    int folded = 0;
    for (int input = 0; input < table.inputs(); input++) {
      for (BankSource source : sources) {
        folded |= uses(source, input) ? 1 << input : 0;
      }
    }
    for (int left = folded; left != 0; left &= left - 1) {
      int input = Integer.numberOfTrailingZeros(left);
      List<Set<Integer>> trial = new ArrayList<>();
      groups.forEach(group -> trial.add(new TreeSet<>(group)));
      boolean fits = true;
      for (int code = 0; fits && code < sources.length; code++) {
        if (uses(sources[code], input)) {
          fits = joinExisting(code, trial);
        }
      }
      if (fits) {
        groups.clear();
        groups.addAll(trial);
        for (int code = 0; code < sources.length; code++) {
          sources[code] = uses(sources[code], input) ? null : sources[code];
        }
      }
    }
  }

  private static boolean uses(BankSource source, int input) {
    return source != null
        && source.index() == input
        && (source.kind() == BankSource.Kind.INPUT
            || source.kind() == BankSource.Kind.INVERTED_INPUT);
  }

  /** Returns the function of some banks over the fewest inputs, all other banks not mattering. */
  private BankFunction function(Set<Integer> codes) {
    TruthTable part =
        TruthTable.of(
            table.inputs(),
            table::isOn,
            p -> table.isCare(p) && codes.contains(SupportReducer.gather(p, select)));
    return BankFunction.smallest(part, (1 << table.inputs()) - 1);
  }
}

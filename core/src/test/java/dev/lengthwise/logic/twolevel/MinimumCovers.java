package dev.lengthwise.logic.twolevel;

import dev.lengthwise.logic.covering.EqualCovers;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.words.OutputWords;
import java.util.ArrayList;
import java.util.List;

/** Every cover of primes with the fewest terms (Petrick's question), to compare the least with. */
public final class MinimumCovers {

  private MinimumCovers() {}

  /** Lists the covers; exactly {@code limit} of them may mean that there are more. */
  public static List<Cover> of(TruthTable table, int limit) {
    TwoLevelResult best = TwoLevelMinimizer.exact().minimize(List.of(table));
    if (!best.proved()) {
      throw new AssertionError("listing all minimum covers needs a proof, found " + best);
    }
    OutputWords spec = OutputWords.of(List.of(table));
    List<Cube> primes = PrimeImplicants.of(spec).cubes();
    List<Cover> covers = new ArrayList<>();
    for (List<Integer> columns :
        new EqualCovers(PrimeChart.of(spec, primes), limit).ofSize(best.terms())) {
      covers.add(new Cover(spec.inputs(), 1, columns.stream().map(primes::get).toList()));
    }
    return covers;
  }
}

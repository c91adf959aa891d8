package dev.lengthwise.logic.map;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.network.DelayModel;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.HashSet;
import java.util.Set;
import java.util.stream.IntStream;

/**
 * What no network of a table is below: a LUT for each function that is neither constant nor an
 * input, and inputs enough for what an output reads. Only of tables that leave nothing open.
 *
 * @param luts the least LUTs
 * @param levels the least levels
 */
record Floor(int luts, int levels) {

  static Floor of(TruthTables function, int lutInputs) {
    Set<TruthTable> distinct = new HashSet<>();
    int luts = 0;
    int levels = 0;
    for (TruthTable output : function.outputs()) {
      if (!output.isComplete()) {
        return new Floor(0, 0);
      }
      int read = read(output);
      if (read > 1) {
        distinct.add(output);
        luts = Math.max(luts, (read - 1 + lutInputs - 2) / (lutInputs - 1));
        levels = Math.max(levels, levels(read, lutInputs));
      }
    }
    return new Floor(Math.max(luts, distinct.size()), levels);
  }

  private static int read(TruthTable output) {
    return (int)
        IntStream.range(0, output.inputs()).filter(input -> LutTree.matters(output, input)).count();
  }

  private static int levels(int read, int lutInputs) {
    int levels = 0;
    for (int reached = 1; reached < read; reached *= lutInputs) {
      levels++;
    }
    return levels;
  }

  /** Tells whether no network has fewer LUTs or, all LUTs being as slow, fewer levels. */
  boolean isMetBy(LutNetwork network, DelayModel delays) {
    return network.luts().size() <= luts && delays.delay(network) <= levels * delays.fastest();
  }
}

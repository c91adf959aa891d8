package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.RtlEquivalence;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Verilog and VHDL of fetch units are formally the same, block by block, their memories word by
 * word (Debian packages ghdl and yosys).
 *
 * <p>Proves the two smallest units, with tags in either kind of RAM, a unit's row of lanes
 * included; further ones with {@code -Dfetch.proofs=24}, of which the largest take minutes each.
 */
@CallsTools
class FetchEquivalenceTest {

  /** Of 4 ways and 4 sets of 8-byte lines: tags in block RAM, and in distributed RAM. */
  private static final List<Integer> SMALLEST = List.of(3, 17);

  private static final int PROOFS = Integer.getInteger("fetch.proofs", SMALLEST.size());

  @TempDir Path folder;

  @Test
  void prove_unitsInBothLanguages_everyBlockIsTheSame() {
    List<FetchUnit> units = FetchUnits.all();
    List<Integer> others =
        IntStream.range(0, units.size()).filter(i -> !SMALLEST.contains(i)).boxed().toList();
    List<Integer> order = new ArrayList<>(SMALLEST);
    order.addAll(others);
    for (int number : order.subList(0, PROOFS)) {
      FetchUnit unit = units.get(number);
      Path tree = folder.resolve(unit.name());
      Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(unit, Style.ROM);
      OutputTree.at(tree).add(new Verilog()).add(new Vhdl()).write(design);
      long start = System.nanoTime();
      List<String> proved = RtlEquivalence.prove(new EmittedTree(tree, unit.name()));
      assertThat(proved).hasSize(design.circuit().blocks().size());
      System.out.println(
          String.format(
              Locale.ROOT,
              "%s (%s, tags in %s, %s): %d blocks proved equal in %.1f s",
              unit.name(),
              unit.cache().geometry(),
              unit.cache().tags().name().toLowerCase(Locale.ROOT),
              unit.cache().replacement().name().toLowerCase(Locale.ROOT),
              proved.size(),
              (System.nanoTime() - start) / 1e9));
    }
  }
}

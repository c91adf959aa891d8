package dev.lengthwise.examples.timing;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.flow.TimingTrial;
import dev.lengthwise.testing.Slow;
import dev.lengthwise.verilog.Verilog;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

@Slow
class TimedDesignsTest {

  /**
   * Eleven rows and three fetch units, as README says, each clocked and in its block for trials.
   */
  @Test
  void all_areClockedDesignsOfTheirNames() {
    List<String> rows = new ArrayList<>();
    List<String> units = new ArrayList<>();
    TimedDesigns.all()
        .forEach(
            (name, made) -> {
              Design design = made.get();
              assertThat(design.name()).isEqualTo(name);
              assertThat(design.circuit().isClocked()).isTrue();
              assertThat(new TimingTrial(new Verilog()).files(design)).isNotEmpty();
              (design.unit().isPresent() ? units : rows).add(name);
            });
    assertThat(rows).hasSize(11);
    assertThat(units).hasSize(3);
  }

  /**
   * By hand: 8 lanes of 2 words of 2 bits, 8 prefix bits, an offset of 3, a late word, 2 flags of
   * what is held, and a carry of 3 with 2 flags. Yosys 0.23, {@code synth_ice40}, keeps as many.
   */
  @Test
  void registers_ofARowWhosePrefixesAllFlip_areHeldOnce() {
    Design row = TimedDesigns.all().get("sluice_row_cut").get();
    assertThat(row.total().registers()).isEqualTo(8 * 2 * 2 + 8 + 3 + 1 + 2 + 3 + 2);
  }
}

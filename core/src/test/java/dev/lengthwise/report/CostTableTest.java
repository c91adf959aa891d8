package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.List;
import org.junit.jupiter.api.Test;

class CostTableTest {

  private static Design design(Style style) {
    LengthTable table =
        LengthTable.named("weir")
            .map("base", map -> map.rows(0x00, 0x7f).bytes(1).others().bytes(2))
            .build();
    InstructionSet set = InstructionSet.of(table, PrefixRules.builder().build(), 4);
    return Realizer.on(DeviceProfile.fourInput()).realize(Predecoder.builder(set).build(), style);
  }

  @Test
  void file_ofOneBit_countNoGates() {
    String text = new CostTable(List.of(design(Style.BANKED))).file().text();
    List<String> lines = text.lines().toList();
    assertThat(lines.get(0))
        .isEqualTo(
            "design,block,style,lut_inputs,luts,sites,wide_muxes,levels,registers,block_rams,"
                + "distributed_ram_bits,proved");
    // Bit 7 of the opcode is the whole answer: 1 or 2 is "10" or "01", one inverter.
    assertThat(lines.get(lines.size() - 1))
        .isEqualTo("weir_lane,weir_lane,banked,4,1,1,0,1,0,0,0,true");
  }

  @Test
  void file_ofTwoDesigns_hasTheRowsOfBoth() {
    Design banked = design(Style.BANKED);
    Design rom = design(Style.ROM);
    String both = new CostTable(List.of(banked, rom)).file().text();
    assertThat(both.lines().count()).isEqualTo(1L + banked.cost().size() + rom.cost().size());
    assertThat(both.lines().filter(line -> line.contains(",rom,")).count())
        .isEqualTo((long) rom.cost().size());
  }
}

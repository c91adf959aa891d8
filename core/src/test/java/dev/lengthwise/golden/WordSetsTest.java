package dev.lengthwise.golden;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.Timed;
import dev.lengthwise.testing.WordSets;
import java.lang.management.ManagementFactory;
import java.util.List;
import java.util.function.IntUnaryOperator;
import java.util.function.Supplier;
import org.junit.jupiter.api.Test;

/** Word-coded sets say what their manuals say, at each of 65,536 words. */
class WordSetsTest {

  private static void assertLengths(InstructionSet set, IntUnaryOperator length) {
    GoldenModel model = GoldenModel.of(set);
    byte[] memory = new byte[set.longest()];
    for (int word = 0; word < 1 << 16; word++) {
      memory[0] = (byte) word;
      memory[1] = (byte) (word >> 8);
      int expected = length.applyAsInt(word);
      int found = model.lengthAt(0, memory, 0, memory.length);
      if (expected == 0 ? found > 0 : found != expected) {
        assertWithMessage("%s", Integer.toHexString(word)).that(found).isEqualTo(expected);
      }
    }
  }

  /**
   * "The RISC-V Instruction Set Manual, Volume I: Unprivileged ISA", "Expanded Instruction-Length
   * Encoding": aa, bbb and nnn are the fields that its figure names.
   */
  @Test
  void riscv_everyParcel_isAsLongAsTheManualSays() {
    assertLengths(
        WordSets.riscv(),
        word -> {
          int nnn = word >> 12 & 7;
          if ((word & 3) != 3) {
            return 2;
          } else if ((word >> 2 & 7) != 7) {
            return 4;
          } else if ((word >> 5 & 1) == 0) {
            return 6;
          } else if ((word >> 6 & 1) == 0) {
            return 8;
          }
          return nnn == 7 ? 0 : (80 + 16 * nnn) / 8;
        });
  }

  /**
   * "Arm Architecture Reference Manual, Armv7-A and Armv7-R edition", "Thumb instruction set
   * encoding".
   */
  @Test
  void t32_everyHalfword_isAsLongAsTheManualSays() {
    assertLengths(
        WordSets.t32(),
        word -> word >> 11 == 0b11101 || word >> 11 == 0b11110 || word >> 11 == 0b11111 ? 4 : 2);
  }

  /** Time of the processor, as other tests run beside this one; cold, as it may run first. */
  @Timed
  @Test
  void description_ofPatterns_takesUnderASecond() {
    for (Supplier<InstructionSet> set :
        List.<Supplier<InstructionSet>>of(
            WordSets::riscv, WordSets::t32, () -> WordSets.weir(CodeUnit.WORD_BIG_ENDIAN))) {
      long before = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
      GoldenModel.of(set.get());
      LaneFunctions.of(LaneTable.of(Predecoder.builder(set.get()).build(), 0));
      long spent = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime() - before;
      assertThat(spent).isLessThan(1_000_000_000L);
    }
  }
}

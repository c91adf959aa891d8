package dev.lengthwise.study.advice;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.study.Libc32;
import dev.lengthwise.study.SmallSet;
import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import java.util.BitSet;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** What unseen code is expected to use, of a small instruction set and of IA-32. */
class ExpectedShareTest {

  private static final List<RowUnit> UNITS = RowUnit.of(SmallSet.SET.table());

  private static final StudyStream STREAM = SmallSet.stream("seen", 1);

  private static ExpectedShare expected() {
    return new ExpectedShare(STREAM.profile(), SmallSet.SET, UNITS);
  }

  private static Predecoder everything(InstructionSet set) {
    return Predecoder.builder(set).prefixes(PrefixTreatment.ONE_UNIT_EACH).build();
  }

  @Test
  void everyRow_hasAnInstructionOfEachUnit() {
    for (InstructionSet set : List.of(SmallSet.SET, Libc32.TRUTH.instructionSet())) {
      List<RowUnit> units = RowUnit.of(set.table());
      CodeStream code = EveryRow.of(set, 0);
      StudyStream stream = StudyStream.of(code, set, 0);
      Set<Integer> rows = new HashSet<>();
      stream.profile().instructionClasses().forEach(c -> rows.add(c.lastRow()));
      assertThat(stream.profile().disagreeing()).isEqualTo(0);
      for (RowUnit unit : units) {
        assertWithMessage("%s", unit)
            .that(unit.isEscape() || unit.rows(set.table()).stream().anyMatch(rows::contains))
            .isTrue();
      }
    }
  }

  @Test
  void of_allRows_isWhatIsDefined_andOfNoRowsIsNone() {
    BitSet all = new BitSet();
    UNITS.forEach(unit -> all.or(unit.rows(SmallSet.SET.table())));
    Predecoder lane = everything(SmallSet.SET);
    Accuracy accuracy = STREAM.accuracy(lane);
    assertThat(accuracy.exact())
        .isEqualTo(accuracy.executed() - accuracy.lost(Accuracy.LossCause.UNDEFINED));
    assertThat(expected().of(lane, new BitSet())).isWithin(0.05).of(1);
    assertThat(expected().of(lane, all)).isWithin(1e-12).of(0);
  }

  /** Leaving out any unit loses something, whether the stream has it or not. */
  @Test
  void of_eachUnit_isWorthSomething() {
    ExpectedShare expected = expected();
    Predecoder lane = everything(SmallSet.SET);
    double all = expected.of(lane, new BitSet());
    double sum = 0;
    for (RowUnit unit : UNITS) {
      double lost = all - expected.of(lane, unit.rows(SmallSet.SET.table()));
      assertWithMessage("%s", unit).that(lost).isGreaterThan(0.0);
      sum += unit.isEscape() ? 0 : lost;
    }
    assertThat(sum).isWithin(1e-9).of(all);
  }

  @Test
  void unitUse_partsAndShares_sumToOne() {
    UnitUse use = new UnitUse(STREAM.profile(), SmallSet.SET.table(), UNITS);
    double unseen = 0;
    for (int unit = 0; unit < UNITS.size(); unit++) {
      unseen += use.unseenShare(unit);
    }
    assertThat(use.executedPart() + use.distinctPart() + unseen).isWithin(1e-9).of(1);
  }
}

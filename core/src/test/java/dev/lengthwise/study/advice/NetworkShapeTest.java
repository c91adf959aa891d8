package dev.lengthwise.study.advice;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import org.junit.jupiter.api.Test;

/** Sizes of networks are told without mapping, as far as that goes. */
class NetworkShapeTest {

  /** Sixteen rows each, in fours: the lower four bits do not matter, nor do two of the others. */
  private static final InstructionSet FOURS =
      InstructionSet.of(
          LengthTable.named("fours")
              .map(
                  "base",
                  map ->
                      map.rows(0x00, 0x3f)
                          .bytes(1)
                          .rows(0x40, 0x7f)
                          .bytes(2)
                          .rows(0x80, 0xbf)
                          .bytes(3)
                          .others()
                          .undefined())
              .build(),
          PrefixRules.builder().build(),
          3);

  private static Predecoder.Builder fours(UndefinedRows undefined) {
    return Predecoder.builder(FOURS).undefinedRows(undefined);
  }

  private static NetworkShape shape(Predecoder lane) {
    return NetworkShape.of(LaneTable.of(lane, 0), 0);
  }

  /** The two bits that tell come last: two nodes of one of them, and one at each level above. */
  @Test
  void of_aRegularMap_hasTheNodesOfItsDiagram() {
    NetworkShape said = shape(fours(UndefinedRows.NOT_HANDLED).build());
    assertThat(said.nodes()).isEqualTo(2 + 6);
    assertThat(said.hasSpecifiers()).isFalse();
  }

  @Test
  void of_aMapWithARowLeftOut_hasMoreNodesThoughFewerRows() {
    NetworkShape all = shape(fours(UndefinedRows.ANYTHING).build());
    NetworkShape fewer = shape(fours(UndefinedRows.ANYTHING).leaveOut("base", 0x25).build());
    assertThat(fewer.nodes()).isGreaterThan(all.nodes());
  }

  @Test
  void luts_ofALaneOfIrregularRows_areMoreThanOfAllRows() {
    Predecoder all = fours(UndefinedRows.ANYTHING).build();
    Predecoder.Builder fewer = fours(UndefinedRows.ANYTHING);
    for (int row : new int[] {0x09, 0x25, 0x5a, 0x66, 0x93}) {
      fewer.leaveOut("base", row);
    }
    assertThat(NetworkShape.luts(fewer.build())).isGreaterThan(NetworkShape.luts(all));
    assertWithMessage("a lane has a LUT").that(NetworkShape.luts(all)).isEqualTo(1);
  }
}

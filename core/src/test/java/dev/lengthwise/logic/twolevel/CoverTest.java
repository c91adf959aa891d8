package dev.lengthwise.logic.twolevel;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.function.TruthTable;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class CoverTest {

  private static final Cover COVER =
      new Cover(2, 2, List.of(new Cube(2, 3, 3, 2), new Cube(2, 1, 1, 1)));

  @Test
  void evaluate_orsTheTerms() {
    assertThat(COVER.evaluate(0)).isEqualTo(0);
    assertThat(COVER.evaluate(1)).isEqualTo(1);
    assertThat(COVER.evaluate(3)).isEqualTo(3);
    assertThat(COVER.terms()).isEqualTo(2);
    assertThat(COVER.literals()).isEqualTo(3);
    assertThat(COVER.toString()).isEqualTo("11 10\n-1 01");
  }

  @Test
  void firstMismatch_missingOneAndSuperfluousOne_areFound() {
    List<TruthTable> right = List.of(TruthTable.parse("0101"), TruthTable.parse("0-01"));
    assertThat(COVER.firstMismatch(right).isEmpty()).isTrue();
    List<TruthTable> missing = List.of(TruthTable.parse("0111"), TruthTable.parse("0001"));
    assertThat(COVER.firstMismatch(missing).getAsInt()).isEqualTo(2);
    List<TruthTable> superfluous = List.of(TruthTable.parse("0001"), TruthTable.parse("0001"));
    assertThat(COVER.firstMismatch(superfluous).getAsInt()).isEqualTo(1);
  }

  @Test
  void construct_copiesTheTerms() {
    List<Cube> cubes = new ArrayList<>(List.of(Cube.parse("1")));
    Cover cover = new Cover(1, 1, cubes);
    cubes.clear();
    assertThat(cover.terms()).isEqualTo(1);
  }

  @Test
  void construct_badFields_sayWhich() {
    List<Cube> one = List.of(Cube.parse("1"));
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cover(1, 0, one)))
        .hasMessageThat()
        .isEqualTo("cover: the number of outputs must be in [1, 64], found 0");
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cover(2, 1, one)))
        .hasMessageThat()
        .isEqualTo("cover: each term must have 2 inputs, found 1");
    List<Cube> second = List.of(new Cube(1, 1, 1, 2));
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cover(1, 1, second)))
        .hasMessageThat()
        .isEqualTo("cover: each term must feed some of the 1 outputs, found 0x2");
  }

  @Test
  void firstMismatch_otherShape_saysBoth() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class,
                () -> COVER.firstMismatch(List.of(TruthTable.parse("01")))))
        .hasMessageThat()
        .isEqualTo("cover: the tables must have 2 inputs and 2 outputs, found 1 and 1");
  }
}

package dev.lengthwise.logic.twolevel;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;

class CubeTest {

  @Test
  void parse_roundTripsThroughText() {
    Cube cube = Cube.parse("01-1");
    assertThat(cube).isEqualTo(new Cube(4, 0b1101, 0b0101, 1));
    assertThat(cube.text()).isEqualTo("01-1");
    assertThat(cube.toString()).isEqualTo("01-1");
    assertThat(cube.literals()).isEqualTo(3);
    assertThat(new Cube(2, 1, 1, 6).toString()).isEqualTo("-1 0x6");
  }

  @Test
  void holds_exactlyThePointsOfTheTerm() {
    Cube cube = Cube.parse("-1-0");
    List<Integer> held = new ArrayList<>();
    for (int p = 0; p < 16; p++) {
      if (cube.holds(p)) {
        held.add(p);
      }
    }
    assertThat(held).containsExactly(4, 6, 12, 14).inOrder();
    List<Integer> walked = new ArrayList<>();
    for (int p = cube.value(); p >= 0; p = cube.nextPoint(p)) {
      walked.add(p);
    }
    assertThat(walked).isEqualTo(held);
  }

  @Test
  void contains_needsFewerLiteralsAndAllOutputs() {
    assertThat(Cube.parse("-1-").contains(Cube.parse("01-"))).isTrue();
    assertThat(Cube.parse("01-").contains(Cube.parse("-1-"))).isFalse();
    assertThat(Cube.parse("-1-").contains(Cube.parse("00-"))).isFalse();
    assertThat(new Cube(1, 0, 0, 1).contains(new Cube(1, 1, 1, 3))).isFalse();
  }

  @Test
  void parse_wrongCharacter_namesPosition() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> Cube.parse("0x")))
        .hasMessageThat()
        .isEqualTo("cube: a character must be 0, 1 or -, found U+0078 at position 1");
  }

  @Test
  void construct_badFields_sayWhich() {
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cube(25, 0, 0, 1)))
        .hasMessageThat()
        .isEqualTo("cube: the number of inputs must be in [0, 24], found 25");
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cube(2, 4, 0, 1)))
        .hasMessageThat()
        .isEqualTo("cube: the literals must be of the 2 inputs, found 0x4");
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cube(2, 1, 2, 1)))
        .hasMessageThat()
        .isEqualTo("cube: the value must lie within the literals 0x1, found 0x2");
    assertThat(assertThrows(IllegalArgumentException.class, () -> new Cube(2, 1, 1, 0)))
        .hasMessageThat()
        .isEqualTo("cube: a term must feed an output, found none");
  }
}

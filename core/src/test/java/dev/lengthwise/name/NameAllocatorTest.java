package dev.lengthwise.name;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

class NameAllocatorTest {

  private final NameAllocator names = new NameAllocator();

  @Test
  void allocate_sameWish_numbersFromTwo() {
    assertThat(List.of(names.allocate("sum"), names.allocate("sum"), names.allocate("sum")))
        .containsExactly("sum", "sum_2", "sum_3")
        .inOrder();
  }

  @Test
  void allocate_numberTakenAlready_skipsIt() {
    names.reserve("sum");
    names.reserve("sum_2");
    assertThat(names.allocate("sum")).isEqualTo("sum_3");
  }

  @Test
  void allocate_reservedWord_numbersIt() {
    assertThat(names.allocate("signal")).isEqualTo("signal_2");
    assertThat(names.allocate("CASE")).isEqualTo("case_2");
  }

  @Test
  void allocate_anyWish_yieldsLegalNamesOnce() {
    Set<String> seen = new HashSet<>();
    for (int round = 0; round < 12; round++) {
      for (String wish :
          List.of(
              "", "_", "__a__", "9lives", "\u00e9t\u00e9", "A b", "x".repeat(300), "a_", "a_2")) {
        String name = names.allocate(wish);
        assertThat(HdlName.fault(name)).isEmpty();
        assertThat(seen.add(name)).isTrue();
        assertThat(names.isTaken(name)).isTrue();
      }
    }
  }

  @Test
  void allocate_wishCutAtUnderscore_staysLegal() {
    String wish = "a".repeat(61) + "_bcd";
    assertThat(names.allocate(wish)).isEqualTo("a".repeat(61) + "_bc");
    assertThat(names.allocate(wish)).isEqualTo("a".repeat(61) + "_2");
  }

  @Test
  void reserve_illegalName_throws() {
    IllegalArgumentException fault =
        assertThrows(IllegalArgumentException.class, () -> names.reserve("Clock"));
    assertThat(fault)
        .hasMessageThat()
        .isEqualTo(
            "reserved name: a name must be lower case letters, digits and underscores, first a"
                + " letter, found \"Clock\"");
  }
}

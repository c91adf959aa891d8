package dev.lengthwise.table;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.util.List;
import org.junit.jupiter.api.Test;

class OperandSpecifierTest {

  private static final ModeCondition WIDE = ModeCondition.on("wide");

  @Test
  void build_gapInTheNextByte_isReported() {
    OperandSpecifier.Builder builder =
        OperandSpecifier.named("address")
            .when("xxxx_xxx0", 0)
            .when(ModeCondition.ALWAYS, "xxxx_xxx1", "0xxx_xxxx", 1)
            .when(ModeCondition.ALWAYS, "xxxx_xxx1", "11xx_xxxx", 2);
    Exception thrown = assertThrows(DescriptionException.class, builder::build);
    assertThat(thrown)
        .hasMessageThat()
        .isEqualTo("specifier address: every byte must have a case, found none for 0x01 0x80");
  }

  @Test
  void build_gapInOneMode_isReported() {
    OperandSpecifier.Builder builder =
        OperandSpecifier.named("address")
            .when("0xxx_xxxx", 0)
            .when(ModeCondition.off("wide"), "1xxx_xxxx", 1)
            .when(WIDE, "11xx_xxxx", 1);
    Exception thrown = assertThrows(DescriptionException.class, builder::build);
    assertThat(thrown)
        .hasMessageThat()
        .isEqualTo(
            "specifier address: every byte must have a case, found none for 0x80 0x00 under wide=1");
  }

  @Test
  void holds_modeMissingFromTheNames_isFalse() {
    assertThat(WIDE.holds(List.of("far"), 1)).isFalse();
    assertThat(WIDE.holds(List.of("far", "wide"), 1)).isFalse();
    assertThat(WIDE.holds(List.of("far", "wide"), 2)).isTrue();
  }
}

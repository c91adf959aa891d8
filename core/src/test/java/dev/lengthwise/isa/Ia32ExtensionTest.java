package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.Slow;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;

@Slow
class Ia32ExtensionTest {

  /** The choice of a coding that is a prefix 66, or the same in its field. */
  private static final int AFTER_66 = 1;

  private static final GoldenModel BASE = GoldenModel.of(Ia32.instructionSet());
  private static final Map<Ia32Extension, GoldenModel> ALONE = new EnumMap<>(Ia32Extension.class);

  static {
    for (Ia32Extension extension : Ia32Extension.values()) {
      ALONE.put(extension, GoldenModel.of(Ia32.instructionSet(extension)));
    }
  }

  @Test
  void with_nothing_isTheInstructionSet() {
    assertThat(Ia32.instructionSet()).isEqualTo(Ia32.instructionSet());
    assertThat(Ia32.instructionSet().table().modes())
        .containsExactly(Ia32.OPERAND32, Ia32.ADDRESS32)
        .inOrder();
  }

  @Test
  void with_anyOrderAndTwice_isOneSet() {
    InstructionSet set =
        Ia32.instructionSet(Ia32Extension.XOP, Ia32Extension.EVEX, Ia32Extension.XOP);
    assertThat(set).isEqualTo(Ia32.instructionSet(Ia32Extension.EVEX, Ia32Extension.XOP));
  }

  @Test
  void with_null_throws() {
    assertThrows(NullPointerException.class, () -> Ia32.instructionSet((Ia32Extension[]) null));
    assertThrows(NullPointerException.class, () -> Ia32.instructionSet((Ia32Extension) null));
  }

  /** Only these fields of instructions are chosen by a prefix that has no other effect here. */
  @ParameterizedTest
  @EnumSource
  void modes_areThoseOfTheBase_andOneMoreWithFieldForms(Ia32Extension extension) {
    List<String> modes = Ia32.instructionSet(extension).table().modes();
    assertThat(modes.subList(0, 2)).containsExactly(Ia32.OPERAND32, Ia32.ADDRESS32).inOrder();
    assertThat(modes.subList(2, modes.size()))
        .isEqualTo(
            extension == Ia32Extension.SSE4A ? List.of(Ia32.FIELD_PREFIX) : List.<String>of());
  }

  /** Worked out by hand from the sources that each extension names. */
  @ParameterizedTest
  @CsvSource({
    "EVEX, 62f17c4858c0, 6, 6",
    "EVEX, 62f17c4858 05, 6, 10",
    "EVEX, 62f17c4858 06, 8, 6",
    "EVEX, 62f17c4858 44 24, 7, 8",
    "EVEX, 62f17d4872 c8, 7, 7",
    "EVEX, 62f27d4890 0424, 6, 7",
    "EVEX, 62f37d4825 c0, 7, 7",
    "EVEX, 62d57c4858 c0, 6, 6",
    "EVEX, 62f67d4898 c0, 6, 6",
    "VEX_LATER, c4e27ab100, 5, 5",
    "VEX_LATER, c4e2f9b4c0, 5, 5",
    "VEX_LATER, c4e27bcbc1, 5, 5",
    "VEX_LATER, c4e371dec0, 6, 6",
    "RAO_INT, 0f38fc00, 4, 4",
    "WRMSRNS, 0f01c6, 3, 3",
    "TDCALL, 660f01cc, 4, 4",
    "THREE_D, 0f0fc09e, 4, 4",
    "THREE_D, 0f0f05, 4, 8",
    "THREE_D, 0f0f4424, 5, 6",
    "THREE_D, 0f0e, 2, 2",
    "THREE_D, 0f0d00, 3, 3",
    "XOP, 8fe878c2c0, 6, 6",
    "XOP, 8fe97890c0, 5, 5",
    "XOP, 8fe97801c8, 5, 5",
    "XOP, 8fea7810c0, 9, 9",
    "XOP, 8fea7810 05, 9, 13",
    "XOP, 8fea7812 c0, 9, 9",
    "XOP, 668fea7812 c0, 10, 10",
    "FMA4, c4e3f969c0, 6, 6",
    "FMA4, c4e37948c0, 6, 6",
    "FFREEP, dfc7, 2, 2",
    "SVM, 0f01d8, 3, 3",
    "SVM, 0f01df, 3, 3",
    "MONITORX, 0f01fa, 3, 3",
    "MONITORX, 0f01fc, 3, 3",
    "SYSCALL, 0f05, 2, 2",
    "SYSCALL, 0f07, 2, 2",
    "CIPHER, f30fa7c8, 4, 4",
  })
  void lengthAt_withAndWithout_definedAndUndefined(
      Ia32Extension extension, String hex, int length16, int length32) {
    byte[] bytes = HexFormat.of().parseHex(hex.replace(" ", "") + "00".repeat(16));
    assertThat(length(BASE, bytes, Ia32.MODES_16)).isEqualTo(0);
    assertThat(length(BASE, bytes, Ia32.MODES_32)).isEqualTo(0);
    assertThat(length(ALONE.get(extension), bytes, Ia32.MODES_16)).isEqualTo(length16);
    assertThat(length(ALONE.get(extension), bytes, Ia32.MODES_32)).isEqualTo(length32);
  }

  /**
   * Application programming manual, volume 4: EXTRQ is 66 0F 78 /0 ib ib, INSERTQ F2 0F 78 /r ib
   * ib, in any order of prefixes; without them VMREAD, the manual of {@link Ia32}.
   */
  @ParameterizedTest
  @CsvSource({
    "660f78c0, 4, 6",
    "f20f78c1, 4, 6",
    "66f20f78c1, 5, 7",
    "2e660f78c0, 5, 7",
    "0f78c0, 3, 3",
    "0f7800, 3, 3",
    "660f7800, 4, 4",
    "f30f78c0, 4, 4",
    "660f79c1, 4, 4",
    "f20f79c1, 4, 4",
    "f30f2b00, 4, 4",
  })
  void lengthAt_fieldForms_twoBytesMoreWithThem(String hex, int without, int with) {
    byte[] bytes = HexFormat.of().parseHex(hex + "00".repeat(16));
    for (int modes : new int[] {Ia32.MODES_16, Ia32.MODES_32}) {
      assertThat(length(BASE, bytes, modes)).isEqualTo(without);
      assertThat(length(ALONE.get(Ia32Extension.SSE4A), bytes, modes)).isEqualTo(with);
    }
  }

  /** What no extension may change: POP, BOUND, LES and LDS; what stays undefined: the rest. */
  @ParameterizedTest
  @CsvSource({
    "8f00, 2, 2",
    "8fc0, 2, 2",
    "8fc8, 0, 0",
    "8f4000, 3, 3",
    "6200, 2, 2",
    "62bf, 4, 6",
    "62f4, 0, 0",
    "62f9, 0, 0",
    "c4bf, 4, 6",
    "c5bf, 4, 6",
    "9bd93f, 1, 1",
    "d6, 0, 0",
    "f608, 0, 0",
    "0f24c0, 0, 0",
  })
  void lengthAt_withAll_neighboursAsBefore(String hex, int length16, int length32) {
    GoldenModel all = GoldenModel.of(Ia32.instructionSet(Ia32Extension.values()));
    byte[] bytes = HexFormat.of().parseHex(hex + "00".repeat(16));
    assertThat(length(all, bytes, Ia32.MODES_16)).isEqualTo(length16);
    assertThat(length(all, bytes, Ia32.MODES_32)).isEqualTo(length32);
  }

  /** A cell that all together change is changed by exactly one, to the same length. */
  @Test
  void extensions_ofAllCells_shareNone() {
    GoldenModel all = GoldenModel.of(Ia32.instructionSet(Ia32Extension.values()));
    Map<Ia32Extension, Integer> added = new EnumMap<>(Ia32Extension.class);
    Map<String, String> faults = new TreeMap<>();
    for (Ia32Coding coding : Ia32Coding.values()) {
      byte[] bytes = new byte[Ia32Coding.STRING];
      for (int index = 0; index < coding.cells(); index++) {
        coding.write(bytes, 0, index, AFTER_66);
        int before = length(BASE, bytes, Ia32.MODES_32);
        int after = length(all, bytes, Ia32.MODES_32);
        List<Ia32Extension> changing = new ArrayList<>();
        for (Map.Entry<Ia32Extension, GoldenModel> alone : ALONE.entrySet()) {
          int length = length(alone.getValue(), bytes, Ia32.MODES_32);
          if (length != before) {
            changing.add(alone.getKey());
            added.merge(alone.getKey(), 1, Integer::sum);
          }
          if (length != before && length != after) {
            faults.put(coding.cell(index).toString(), alone.getKey() + " " + length);
          }
        }
        if (changing.size() != (before == after ? 0 : 1)) {
          faults.put(coding.cell(index).toString(), changing.toString());
        }
      }
    }
    assertThat(faults).isEmpty();
    assertWithMessage("extensions that add cells")
        .that(added.keySet())
        .containsExactlyElementsIn(Ia32Extension.values());
    // 0F 01 D8 to DF; the last six; DF C0 to C7; 64 register operands of 0F 78.
    assertThat(added.get(Ia32Extension.SVM)).isEqualTo(8);
    assertThat(added.get(Ia32Extension.MONITORX)).isEqualTo(6);
    assertThat(added.get(Ia32Extension.FFREEP)).isEqualTo(8);
    assertThat(added.get(Ia32Extension.SSE4A)).isEqualTo(64);
  }

  private static int length(GoldenModel model, byte[] bytes, int modes) {
    return Math.max(0, model.lengthAt(modes, bytes, 0));
  }
}

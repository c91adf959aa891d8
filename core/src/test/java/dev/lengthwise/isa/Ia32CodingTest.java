package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.Ia32Coding.Cell;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Path;
import java.util.EnumSet;
import java.util.HexFormat;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** Compares the description with all extensions with two decoders, cell by cell. */
@CallsTools
class Ia32CodingTest {

  private static final GoldenModel MODEL =
      GoldenModel.of(Ia32.instructionSet(Ia32Extension.values()));

  @TempDir static Path directory;

  private final Map<String, String> faults = new TreeMap<>();
  private final Set<Ia32CellDifference> found = EnumSet.noneOf(Ia32CellDifference.class);
  private int agreed;

  /** GNU objdump's library, binutils 2.40 in Debian 12. */
  @ParameterizedTest
  @ValueSource(ints = {16, 32})
  void cells_ofEveryCoding_agreeWithObjdump(int bits) throws IOException {
    for (Ia32Coding coding : Ia32Coding.values()) {
      compare(coding, bits, ByteStringDecoder.OPCODES);
    }
    assertThat(faults).isEmpty();
    assertWithMessage("kinds of differences that occur")
        .that(found)
        .isEqualTo(EnumSet.allOf(Ia32CellDifference.class));
    assertThat(agreed).isGreaterThan(100_000);
  }

  /** Zydis 4.0 in Debian 12, which takes 66, F2 and F3 before other opcodes differently. */
  @ParameterizedTest
  @CsvSource({"16, VEX", "16, XOP", "16, EVEX", "32, VEX", "32, XOP", "32, EVEX"})
  void cells_behindPrefixes_agreeWithDecoder(int bits, Ia32Coding coding) throws IOException {
    compare(coding, bits, ByteStringDecoder.ZYDIS);
    assertThat(faults).isEmpty();
    assertThat(agreed).isGreaterThan(1_000);
  }

  private void compare(Ia32Coding coding, int bits, ByteStringDecoder decoder) throws IOException {
    byte[] strings = coding.strings();
    byte[] results = decoder.decode(directory, bits, strings);
    assertThat(results.length)
        .isEqualTo(decoder.resultBytes() * (strings.length / Ia32Coding.STRING));
    int modes = bits == 32 ? Ia32.MODES_32 : Ia32.MODES_16;
    for (int index = 0; index < coding.cells(); index++) {
      Cell cell = coding.cell(index);
      if (!cell.isElsewhere()) {
        compare(cell, index * coding.choices(), strings, results, modes, decoder, bits);
      }
    }
  }

  private void compare(
      Cell cell,
      int first,
      byte[] strings,
      byte[] results,
      int modes,
      ByteStringDecoder decoder,
      int bits) {
    boolean ours = false;
    boolean theirs = false;
    for (int string = first; string < first + cell.coding().choices(); string++) {
      int start = string * Ia32Coding.STRING;
      int end = start + Ia32Coding.STRING;
      int length = Math.max(0, MODEL.lengthAt(modes, strings, start, end));
      int result = results[string * decoder.resultBytes()];
      ours |= length > 0;
      theirs |= result > 0;
      if (length > 0 && result > 0 && length != result && !isJoinedWait(cell)) {
        fault("length " + length + " against " + result, cell, strings, start);
      }
    }
    if (ours == theirs) {
      agreed += ours ? 1 : 0;
      return;
    }
    Optional<Ia32CellDifference> difference = Ia32CellDifference.of(cell, ours, bits);
    difference.ifPresent(found::add);
    if (difference.isEmpty()) {
      fault(ours ? "only ours" : "only theirs", cell, strings, first * Ia32Coding.STRING);
    }
  }

  /** WAIT is an instruction of its own; the disassembler joins it with an x87 instruction. */
  private static boolean isJoinedWait(Cell cell) {
    return cell.is(Ia32Coding.LEGACY, 0, 0x9b) && cell.modRm() >> 3 == 0xd8 >> 3;
  }

  private void fault(String what, Cell cell, byte[] strings, int start) {
    faults.putIfAbsent(
        cell + " " + what, HexFormat.of().formatHex(strings, start, start + Ia32Coding.STRING));
  }
}

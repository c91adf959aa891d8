package dev.lengthwise.javamodel;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.golden.Outcome;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.UnusualSets;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Emitted models, compiled, say what the golden model and the lane's golden function say. Every
 * build asks for a fifth of the vectors of each lane, which are spread over all kinds of them, and
 * of the offsets.
 */
@Slow
class JavaModelTest {

  private static final int RANDOM = 10_000;

  @TempDir Path folder;

  private static List<OutputFile> files(Predecoder lane) {
    return new JavaModel().files(lane);
  }

  static List<Predecoder> lanes() {
    List<Predecoder> lanes = new ArrayList<>();
    InstructionSet bytes = SampleSets.bytes();
    for (SpecifierDepth depth : SpecifierDepth.values()) {
      lanes.add(Predecoder.builder(bytes).depth(depth).leaveOut("base", 0x1c, 0x2a).build());
    }
    lanes.add(Predecoder.builder(bytes).lookahead(1).undefinedRows(UndefinedRows.ANYTHING).build());
    lanes.add(Predecoder.builder(bytes).prefixes(PrefixTreatment.NOT_HANDLED).longest(4).build());
    lanes.add(folded(bytes));
    lanes.add(
        Predecoder.builder(bytes).prefix(0xf3, PrefixTreatment.folded(1)).lookahead(4).build());
    InstructionSet bigEndian = SampleSets.words(CodeUnit.WORD_BIG_ENDIAN);
    lanes.add(Predecoder.builder(bigEndian).leaveOut("base", 0x1c00, 0x93ff).lookahead(2).build());
    lanes.add(folded(bigEndian));
    InstructionSet littleEndian = SampleSets.words(CodeUnit.WORD_LITTLE_ENDIAN);
    lanes.add(Predecoder.builder(littleEndian).depth(SpecifierDepth.BYTE).build());
    lanes.add(folded(littleEndian));
    lanes.add(Predecoder.builder(UnusualSets.joined()).build());
    lanes.add(folded(UnusualSets.joined()));
    lanes.add(Predecoder.builder(UnusualSets.joinedWords()).build());
    lanes.add(Predecoder.builder(Ia32.instructionSet()).build());
    lanes.add(folded(Ia32.instructionSet()));
    return lanes;
  }

  private static Predecoder folded(InstructionSet set) {
    return Predecoder.builder(set)
        .prefixes(PrefixTreatment.folded(2))
        .undefinedRows(UndefinedRows.ANYTHING)
        .build();
  }

  /** More different rows than a model has letters, and than one of its methods holds. */
  private static InstructionSet manyRows() {
    LengthTable.Builder table = LengthTable.named("many").unit(CodeUnit.WORD_BIG_ENDIAN);
    for (int i = 0; i < 6; i++) {
      table.mode("m" + i);
    }
    table.map(
        "base",
        map -> {
          for (int code = 0; code < 450; code++) {
            manyRow(map, code);
          }
          map.others().undefined();
        });
    return InstructionSet.of(table.build(), PrefixRules.NONE);
  }

  private static void manyRow(OpcodeMap.Builder map, int code) {
    var row = map.row(code * 7).bytes(2 + 2 * (code % 3));
    for (int mode = 0; mode < 6; mode++) {
      int digit = (code / 3 / (int) Math.pow(3, mode)) % 3;
      if (digit > 0) {
        row.grows("m" + mode, 2 * digit);
      }
    }
  }

  @ParameterizedTest
  @MethodSource("lanes")
  void models_everyRowPatternAndMode_sayWhatGoldenSays(Predecoder lane) throws Throwable {
    Comparison comparison = new Comparison(CompiledModel.of(files(lane), folder), lane);
    for (LaneVectors.Vector vector :
        LaneVectors.of(lane, RANDOM, 7).every(Extent.of(5, 1)).vectors()) {
      comparison.everyEnd(vector.code(), vector.modes());
    }
    comparison.everyOffset(memory(lane, Extent.of(10_000, 50_000)));
    assertThat(comparison.outcomes()).containsAtLeast(Outcome.LENGTH, Outcome.TOO_FEW_BYTES);
  }

  @Test
  void models_nothingDefined_sayWhatGoldenSays() throws Throwable {
    Predecoder lane = Predecoder.builder(UnusualSets.nothing(PrefixRules.NONE)).build();
    Comparison comparison = new Comparison(CompiledModel.of(files(lane), folder), lane);
    comparison.everyOffset(memory(lane, 5000));
    assertThat(comparison.outcomes()).containsExactly(Outcome.UNDEFINED, Outcome.TOO_FEW_BYTES);
  }

  @Test
  void models_bytesOfEveryOutcome_sayWhatGoldenSays() throws Throwable {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    Comparison comparison = new Comparison(CompiledModel.of(files(lane), folder), lane);
    comparison.everyOffset(memory(lane, 50_000));
    assertThat(comparison.outcomes()).containsExactlyElementsIn(Outcome.values());
  }

  @Test
  void models_moreRowsThanLettersAndThanAMethodHolds_sayWhatGoldenSays() throws Throwable {
    Predecoder lane = Predecoder.builder(manyRows()).build();
    Comparison comparison = new Comparison(CompiledModel.of(files(lane), folder), lane);
    SplittableRandom random = new SplittableRandom(5);
    for (int code = 0; code < 0x1000; code++) {
      byte[] memory = new byte[31];
      CodeUnit.WORD_BIG_ENDIAN.write(code, memory, 0);
      comparison.everyEnd(memory, random.nextInt(64));
    }
  }

  /** Random bytes with many prefixes, so that runs of them occur. */
  private static byte[] memory(Predecoder lane, int count) {
    byte[] memory = new byte[count];
    SplittableRandom random = new SplittableRandom(17);
    random.nextBytes(memory);
    List<Integer> prefixes = List.copyOf(lane.prefixes().keySet());
    CodeUnit unit = lane.instructionSet().table().unit();
    for (int i = 0; i + 2 < count && !prefixes.isEmpty(); i += unit.bytes()) {
      if (random.nextInt(3) == 0) {
        unit.write(prefixes.get(random.nextInt(prefixes.size())), memory, i);
      }
    }
    return memory;
  }

  @Test
  void files_ofALane_areCalledByTableAndLane() {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).name("narrow_2").build();
    assertThat(files(lane).stream().map(OutputFile::path))
        .containsExactly("java/sample/SampleLengthModel.java", "java/sample/Narrow_2Model.java")
        .inOrder();
  }

  @Test
  void files_ofIa32_areAsciiInLinesOfAHundred() {
    for (OutputFile file : files(Predecoder.builder(Ia32.instructionSet()).build())) {
      assertThat(file.text()).endsWith("\n");
      assertThat(file.text().lines().filter(line -> !line.matches("([ -~]{0,99}[!-~])?")).toList())
          .isEmpty();
    }
  }

  @Test
  void files_packageGiven_areInIt() {
    Predecoder lane = Predecoder.builder(SampleSets.bytes()).build();
    List<OutputFile> files =
        new JavaModel("org.example.cpu")
            .files(Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM));
    assertThat(files.get(1).path()).isEqualTo("java/org/example/cpu/SampleLaneModel.java");
    assertThat(files.get(1).text()).startsWith("package org.example.cpu;\n");
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "a..b", "a.class", "1a", "a b", "a/b", "\u00e4", "a;b", ".a", "a.*"})
  void constructor_noPackageName_saysSo(String name) {
    IllegalArgumentException e =
        assertThrows(IllegalArgumentException.class, () -> new JavaModel(name));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "java model: a package name in ASCII is expected, found \""
                + name.replace("\u00e4", "\\u00e4")
                + "\"");
  }

  @Test
  void constructor_platformPackage_saysSo() {
    IllegalArgumentException e =
        assertThrows(IllegalArgumentException.class, () -> new JavaModel("java.cpu"));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            "java model: the platform keeps package java and those inside it for itself,"
                + " found \"java.cpu\"");
  }

  @Test
  void files_emittedTwice_areEqual() throws IOException {
    Predecoder lane = Predecoder.builder(Ia32.instructionSet()).build();
    assertThat(files(lane)).isEqualTo(files(lane));
  }

  @Test
  void laneModel_namesThatDiffer_haveClassesThatDiffer() {
    assertThat(JavaNames.laneModel("x_lane")).isEqualTo("XLaneModel");
    assertThat(JavaNames.laneModel("x")).isEqualTo("XModel");
    assertThat(JavaNames.laneModel("x_1")).isEqualTo("X_1Model");
    assertThat(JavaNames.laneModel("x1")).isEqualTo("X1Model");
  }
}

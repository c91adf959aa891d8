package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testbench.run.Verilator;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.vector.ArrayVectors;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.SampleSets;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.BufferedWriter;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.BitSet;
import java.util.List;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Long streams through rows of lanes: real code of the 32-bit C library (Debian package
 * libc6-i386-cross) and 16-bit code, with the boundaries of GNU objdump (package binutils), and a
 * million random windows, in every build a fifth of both; in Verilator, and on a part in Icarus
 * Verilog and GHDL.
 */
@CallsTools
class ArrayStreamTest {

  private static final Path LIBRARY = Path.of("/usr/i686-linux-gnu/lib/libc.so.6");

  /** The prefixes of the manual, section 2.1.1, as {@link Ia32} has them. */
  private static final String PREFIXES = "&.6>defg\u00f0\u00f2\u00f3";

  @TempDir Path tree;

  private static Disassembly code16(Path folder) throws IOException, InterruptedException {
    Path source =
        Path.of("../core/src/test/resources/dev/lengthwise/isa/code16.s").toAbsolutePath();
    ToolRun run =
        ToolRun.of(
            "binutils",
            folder,
            60,
            List.of("as", "--32", "--no-warn", "-o", "code.o", source.toString()));
    assertWithMessage(run.output()).that(run.status()).isEqualTo(0);
    return Disassembly.of(folder.resolve("code.o"), "i8086");
  }

  private static boolean isPrefix(byte value) {
    return PREFIXES.indexOf(value & 0xff) >= 0;
  }

  /** Marks where items start: instructions, and in them the bytes behind a prefix. */
  private static BitSet items(Disassembly code) {
    BitSet items = new BitSet();
    for (int start : code.starts()) {
      int at = start;
      items.set(at);
      while (at < code.bytes().length && isPrefix(code.bytes()[at])) {
        items.set(++at);
      }
    }
    return items;
  }

  /** Walks the code as the vectors do, without excursions; returns the bytes that were marked. */
  private static int compareWithObjdump(LaneArray array, Disassembly code, int modes) {
    ArrayModel model = ArrayModel.of(array);
    BitSet wanted = items(code);
    int bytes = array.windowBytes();
    int redirect = 0;
    int notHandled = 0;
    for (int window = 0; window + bytes <= code.bytes().length; window += bytes) {
      for (boolean again = true; again; ) {
        again = false;
        int from = redirect == ArrayModel.NO_REDIRECT ? 0 : redirect;
        model.step(modes, code.bytes(), window, redirect);
        redirect = ArrayModel.NO_REDIRECT;
        int to = bytes;
        if (model.notHandled() >= 0) {
          notHandled++;
          int next = wanted.nextSetBit(window + model.notHandled() + 1);
          to = model.notHandled() + 1;
          again = next >= 0 && next < window + bytes;
          redirect = again ? next - window : redirect;
        }
        for (int i = from; i < to; i++) {
          if ((model.starts() >> i & 1) != 0 != wanted.get(window + i)) {
            assertWithMessage("a start at 0x%s", Integer.toHexString(window + i))
                .that(wanted.get(window + i))
                .isEqualTo((model.starts() >> i & 1) != 0);
          }
        }
      }
      if (model.isWaiting()) {
        int next = wanted.nextSetBit(window + bytes);
        if (next < 0) {
          break;
        }
        window = next / bytes * bytes - bytes;
        redirect = next % bytes;
      }
    }
    assertThat(notHandled).isLessThan(code.starts().length / 100);
    return code.bytes().length;
  }

  private ArrayVectors.Coverage vectors(Design design, ArrayVectors vectors) throws IOException {
    Path file = tree.resolve("bench/vectors/" + design.name() + ".hex");
    try (BufferedWriter out = Files.newBufferedWriter(file)) {
      return vectors.writeTo(out);
    }
  }

  private Design write(LaneArray array) {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(array, Style.ROM);
    OutputTree.at(tree).add(new Verilog()).add(new Vhdl()).add(new Testbenches(1, 1)).write(design);
    return design;
  }

  private void check(Simulator simulator, Design design, int cycles) {
    SimulationResult result = simulator.run(tree, design.name());
    assertWithMessage(result.output()).that(result.passed()).isTrue();
    assertThat(result.vectors()).isEqualTo(cycles);
  }

  static List<Marking> markings() {
    return List.of(Marking.fullRipple(), Marking.byEntry(3, 4));
  }

  @ParameterizedTest
  @MethodSource("markings")
  void run_realCode_marksEqualObjdump(Marking marking) throws IOException, InterruptedException {
    LaneArray array =
        LaneArray.builder(Predecoder.builder(Ia32.instructionSet()).build(), 8)
            .marking(marking)
            .build();
    Disassembly code32 = Disassembly.of(LIBRARY, "i386");
    Disassembly code16 = code16(tree);
    int marked = compareWithObjdump(array, code32, Ia32.MODES_32);
    marked += compareWithObjdump(array, code16, Ia32.MODES_16);
    assertThat(marked).isGreaterThan(1 << 20);

    Design design = write(array);
    List<ArrayVectors.Code> codes = List.of(code16.code(Ia32.MODES_16), code32.code(Ia32.MODES_32));
    int cycles = marked / 8 * 3 / 2 / Extent.of(10, 1);
    ArrayVectors.Coverage coverage = vectors(design, ArrayVectors.walk(array, codes, cycles, 3));
    assertThat(coverage.windows()).isGreaterThan((1 << 20) / 8 / Extent.of(10, 1));
    assertThat(coverage.redirects()).isGreaterThan(1000 / Extent.of(10, 1));
    assertThat(coverage.carries().cardinality()).isGreaterThan(9);
    check(new Verilator(), design, cycles);

    int part = 400;
    vectors(design, ArrayVectors.walk(array, codes.subList(1, 2), part, 4));
    check(new IcarusVerilog(), design, part);
    check(new Ghdl(Ghdl.Edition.IEEE_2008), design, part);
  }

  @ParameterizedTest
  @MethodSource("markings")
  void run_manyRandomWindows_neverDiverges(Marking marking) throws IOException {
    LaneArray array =
        LaneArray.builder(Predecoder.builder(SampleSets.bytes()).build(), 4)
            .marking(marking)
            .build();
    Design design = write(array);
    int cycles = Extent.of(230_000, 1_150_000);
    ArrayVectors.Coverage coverage = vectors(design, ArrayVectors.random(array, cycles, 1));
    assertThat(coverage.windows()).isAtLeast(Extent.of(200_000, 1_000_000));
    assertThat(coverage.carries().cardinality()).isAtLeast(array.lane().longest());
    check(new Verilator(), design, cycles);
  }
}

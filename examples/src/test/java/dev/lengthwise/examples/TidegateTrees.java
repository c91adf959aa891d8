package dev.lengthwise.examples;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.Tidegate;
import dev.lengthwise.javamodel.JavaModel;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.report.CostTable;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.study.sweep.Sweep;
import dev.lengthwise.study.sweep.Variant;
import dev.lengthwise.study.sweep.VariantSpace;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;

/**
 * Writes everything that can be emitted for a lane of Tidegate, each style in its own folder, for
 * rows of it and a fetch unit, and a study.
 *
 * <p>Mapping a network of LUTs searches for minutes, so that style gets the small lane of the
 * README.
 */
final class TidegateTrees {

  private static final Testbenches CYCLES = new Testbenches(200, 1);

  private TidegateTrees() {}

  /** Returns the lane of the quickstart. */
  static Predecoder lane() {
    return Predecoder.builder(Tidegate.instructionSet())
        .lookahead(3)
        .longest(8)
        .leaveOut("survey", 0x30, 0x3f)
        .build();
  }

  /** Returns the small set of the README. */
  static InstructionSet sluice() {
    OperandSpecifier place =
        OperandSpecifier.named("place").when("0xxx_xxxx", 0).when("1xxx_xxxx", 1).build();
    LengthTable table =
        LengthTable.named("sluice")
            .mode("wide")
            .map(
                "base",
                map -> {
                  map.rows(0x00, 0x3f).bytes(1);
                  map.rows(0x40, 0x5f).bytes(2).specifier(place);
                  map.rows(0x60, 0x6f).bytes(2).grows("wide", 1);
                  map.others().undefined();
                })
            .build();
    return InstructionSet.of(table, PrefixRules.builder().flips(0xf0, "wide").build(), 8);
  }

  /** Returns a design in a style. */
  static Design design(Style style) {
    Predecoder lane = style == Style.LUT_NETWORK ? Predecoder.builder(sluice()).build() : lane();
    return Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, style);
  }

  /** The first argument is the folder to write to. */
  public static void main(String[] arguments) throws IOException, InterruptedException {
    Path folder = Path.of(arguments[0]);
    for (Style style : Style.values()) {
      write(folder.resolve(style.label()), design(style), new Testbenches());
    }
    Realizer realizer = Realizer.on(DeviceProfile.sixInputDualOutput());
    LaneArray row = LaneArray.builder(lane(), 4).cut(PipelineCut.AFTER_LANES).build();
    write(folder.resolve("row"), realizer.realize(row, Style.ROM), CYCLES);
    LaneArray first = LaneArray.builder(lane(), 6).marking(Marking.first(3)).build();
    write(folder.resolve("first"), realizer.realize(first, Style.BANKED), CYCLES);
    InstructionCache cache =
        InstructionCache.named("tidegate_cache", new CacheGeometry(256, 2, 16, 20, 4)).build();
    FetchUnit unit = FetchUnit.of("tidegate_fetch_unit", cache, row);
    write(folder.resolve("fetch"), realizer.realize(unit, Style.ROM), CYCLES);
    RamFit fit = RamFit.of(cache, DeviceProfile.sixInputDualOutput());
    write(folder.resolve("fetch/ram_fit.txt"), fit.explain());
    study(folder.resolve("study"));
  }

  private static void write(Path tree, Design design, Testbenches benches) throws IOException {
    OutputTree.at(tree)
        .add(new Verilog())
        .add(new Vhdl())
        .add(benches)
        .add(new JavaModel())
        .add(new CostTable(List.of(design)).file())
        .write(design);
    write(tree.resolve("explanation.txt"), design.explain());
    write(tree.resolve("cost.txt"), List.of(design.cost().toString()));
    write(tree.resolve("path.txt"), List.of(design.criticalPath().toString()));
  }

  /** Writes {@code study.csv} for lanes that differ in all that numbers name. */
  private static void study(Path folder) throws IOException, InterruptedException {
    byte[] code = new byte[4096];
    new Random(1).nextBytes(code);
    StudyStream stream =
        StudyStream.ofImage(
            "random",
            Tidegate.instructionSet(),
            0,
            CodeImage.of(List.of(CodeImage.Section.of("code", 0x400, code))));
    List<Variant> variants =
        VariantSpace.builder(Tidegate.instructionSet())
            .prefixes(PrefixTreatment.NOT_HANDLED, PrefixTreatment.folded(1))
            .styles(Style.ROM)
            .decoders(1, 2)
            .build()
            .variants();
    Files.createDirectories(folder);
    Sweep.of(variants, List.of(stream)).withThreads(1).run(folder.resolve("study.csv"));
  }

  private static void write(Path file, List<String> lines) throws IOException {
    Files.writeString(file, String.join("\n", lines) + "\n", StandardCharsets.UTF_8);
  }
}

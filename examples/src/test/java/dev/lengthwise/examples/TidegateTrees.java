package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.javamodel.JavaModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
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

/**
 * Writes everything that can be emitted for a lane of Tidegate, each style in its own folder.
 *
 * <p>Mapping a network of LUTs searches for minutes, so that style gets the small lane of the
 * README.
 */
final class TidegateTrees {

  private TidegateTrees() {}

  /** Returns the lane of the quickstart. */
  static Predecoder lane() {
    return Predecoder.of(Tidegate.instructionSet())
        .lookahead(3)
        .longest(8)
        .leaveOut("survey", 0x30, 0x3f)
        .build();
  }

  private static InstructionSet sluice() {
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
    Predecoder lane = style == Style.LUT_NETWORK ? Predecoder.of(sluice()).build() : lane();
    return Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, style);
  }

  /** The first argument is the folder to write to. */
  public static void main(String[] arguments) throws IOException {
    Path folder = Path.of(arguments[0]);
    for (Style style : Style.values()) {
      Design design = design(style);
      Path tree = folder.resolve(style.label());
      OutputTree.at(tree)
          .add(new Verilog())
          .add(new Vhdl())
          .add(new Testbenches())
          .add(new JavaModel())
          .write(design);
      write(tree.resolve("explanation.txt"), design.explain());
      write(tree.resolve("cost.txt"), List.of(design.cost().toString()));
      write(tree.resolve("path.txt"), List.of(design.criticalPath().toString()));
    }
  }

  private static void write(Path file, List<String> lines) throws IOException {
    Files.writeString(file, String.join("\n", lines) + "\n", StandardCharsets.UTF_8);
  }
}

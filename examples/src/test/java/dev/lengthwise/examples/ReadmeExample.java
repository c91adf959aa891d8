package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Calibration;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.testbench.flow.ClockConstraints;
import dev.lengthwise.testbench.flow.OpenFlow;
import dev.lengthwise.testbench.flow.TimingResult;
import dev.lengthwise.testbench.flow.TimingTrial;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.vector.BuiltInSimulator;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.util.Map;

/** The code of the README's example, between the marks. */
final class ReadmeExample {

  private ReadmeExample() {}

  static void run(Path folder, PrintStream out) {
    // begin
    OperandSpecifier place =
        OperandSpecifier.named("place").when("0xxx_xxxx", 0).when("1xxx_xxxx", 1).build();

    LengthTable table =
        LengthTable.named("sluice")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x3f)
                        .bytes(1)
                        .rows(0x40, 0x5f)
                        .bytes(2)
                        .specifier(place)
                        .rows(0x60, 0x6f)
                        .bytes(2)
                        .grows("wide", 1)
                        .others()
                        .undefined())
            .build();

    InstructionSet set =
        InstructionSet.of(table, PrefixRules.builder().flips(0xf0, "wide").build(), 8);

    Predecoder lane = Predecoder.builder(set).build();
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
    SimulationResult result =
        BuiltInSimulator.run(design, LaneVectors.of(lane, LaneVectors.RANDOM, 1));
    OutputTree.at(folder).add(new Verilog()).add(new Testbenches()).write(design);

    out.println(
        "length at 40 80: " + GoldenModel.of(set).lengthAt(0, new byte[] {0x40, -128, 0}, 0));
    out.println(result.vectors() + " vectors, " + result.mismatches() + " mismatches");
    // end
  }

  /** The code of the README's row of lanes. */
  static Design row(Predecoder lane) {
    DeviceProfile device = DeviceProfile.sixInputDualOutput();
    // begin row
    LaneArray row =
        LaneArray.builder(lane, 16)
            .marking(Marking.fullLogarithmic())
            .cut(PipelineCut.AFTER_LANES)
            .build();
    Design design = Realizer.on(device).realize(row, Style.LUT_NETWORK);
    // end row
    return design;
  }

  /** The code of the README's measured clock. */
  static void clock(Predecoder lane, Path folder, PrintStream out) {
    // begin clock
    Design design = Realizer.on(DeviceProfile.fourInput()).realize(lane, Style.LUT_NETWORK);
    OutputTree.at(folder)
        .add(new TimingTrial(new Verilog()))
        .add(ClockConstraints.of(10))
        .write(design);
    out.println(design.total().luts() + " LUTs and " + design.clock() + " are estimated");
    for (TimingResult result : new OpenFlow().withSeeds(3).run(folder, design.name())) {
      out.println(result);
    }
    // end clock
  }

  /** The code of the README's own delays. */
  static DeviceProfile calibrated(Path file, Map<String, Design> designs, PrintStream out)
      throws IOException {
    // begin calibration
    Calibration.Result fitted =
        Calibration.on(DeviceProfile.fourInput()).withFile(file, designs).fit();
    out.println(fitted);
    DeviceProfile mine = fitted.profile();
    // end calibration
    return mine;
  }
}

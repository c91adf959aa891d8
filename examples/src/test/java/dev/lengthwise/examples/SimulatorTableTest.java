package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.Tidegate;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testbench.run.Verilator;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.Linter;
import dev.lengthwise.testing.RtlEquivalence;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Every design in every style passes its bench in every simulator, no checker complains, and every
 * block is proved the same in both languages (Debian packages iverilog, verilator, g++, make, ghdl,
 * yosys). Prints the table. IA-32 runs every 29th of its vectors; its whole tables, and the proofs
 * of its banks and of the network of all, are left to {@code -Dwhole=true}. As a LUT network its
 * undefined rows are free, because the mapping takes minutes otherwise. Every build maps the sluice
 * and of IA-32 the lane that reads opcodes alone, {@code -Dwhole=true} Tidegate too and of IA-32
 * the lane that follows everything.
 */
@CallsTools
class SimulatorTableTest {

  private static final List<Simulator> SIMULATORS =
      List.of(
          new IcarusVerilog(),
          new Verilator(),
          new Ghdl(Ghdl.Edition.IEEE_1993),
          new Ghdl(Ghdl.Edition.IEEE_2008));

  @TempDir Path folder;

  /** A line of the table: what is built, which share of its vectors is run. */
  private record Case(String name, Predecoder lane, Style style, int step) {}

  private static List<Case> cases() {
    Predecoder folded =
        Predecoder.builder(Tidegate.instructionSet())
            .name("tidegate_folded")
            .lookahead(3)
            .prefixes(PrefixTreatment.folded(1))
            .build();
    Predecoder.Builder ia32 = Predecoder.builder(Ia32.instructionSet());
    List<Case> cases = new ArrayList<>();
    for (Style style :
        Extent.isWhole() ? List.of(Style.ROM, Style.BANKED) : List.of(Style.BANKED)) {
      cases.add(new Case("IA-32", ia32.build(), style, 29)); // of 211 thousand
    }
    if (!Extent.isWhole()) {
      ia32.depth(SpecifierDepth.NONE);
    }
    Predecoder open = ia32.undefinedRows(UndefinedRows.ANYTHING).build();
    cases.add(new Case("IA-32, undefined rows free", open, Style.LUT_NETWORK, 29));
    for (Style style : Style.values()) {
      if (Extent.isWhole() || style != Style.LUT_NETWORK) {
        cases.add(new Case("Tidegate", Tidegate.lane(), style, 1));
      }
      cases.add(new Case("sluice", sluice(), style, 1));
    }
    cases.add(new Case("Tidegate, prefix folded", folded, Style.ROM, 1));
    return cases;
  }

  /** The set of the README, which is mapped in no time. */
  private static Predecoder sluice() {
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
    PrefixRules prefixes = PrefixRules.builder().flips(0xf0, "wide").build();
    return Predecoder.builder(InstructionSet.of(table, prefixes, 8)).build();
  }

  @Test
  void table_everyDesignStyleAndSimulator_passesWithoutAComplaint() {
    TextTable table = new TextTable(header());
    Stream<List<Object>> rows = cases().parallelStream().map(this::row);
    List<List<Object>> found = rows.toList();
    found.forEach(row -> table.row(row.toArray()));
    System.out.println(table);
    for (List<Object> row : found) {
      for (Object cell : row) {
        assertWithMessage("%s", row).that(cell.toString()).doesNotContain("FAIL");
      }
    }
  }

  /** The languages of IA-32 are proved equal as the network of opcodes in every build. */
  private static boolean isProved(Case one) {
    return one.step() == 1 || one.style() == Style.LUT_NETWORK || Extent.isWhole();
  }

  private static String[] header() {
    List<String> names = new ArrayList<>(List.of("design", "style", "vectors"));
    SIMULATORS.forEach(simulator -> names.add(simulator.name()));
    for (Linter linter : Linter.values()) {
      names.add(linter.name().toLowerCase(Locale.ROOT) + " warnings");
    }
    names.add("blocks proved equal");
    return names.toArray(String[]::new);
  }

  private List<Object> row(Case one) {
    Design design =
        Realizer.on(DeviceProfile.sixInputDualOutput()).realize(one.lane(), one.style());
    Path tree = folder.resolve(one.name().replaceAll("[^A-Za-z]", "") + one.style());
    OutputTree.at(tree)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(2000, 7).withEvery(one.step()))
        .write(design);
    List<Object> row = new ArrayList<>(List.of(one.name(), one.style().label()));
    for (Simulator simulator : SIMULATORS) {
      SimulationResult result = simulator.run(tree, design.name());
      if (row.size() == 2) {
        row.add(result.vectors());
      }
      boolean same = row.get(2).equals(result.vectors());
      boolean warned = result.output().toLowerCase(Locale.ROOT).contains("warning");
      row.add(
          result.passed() && same && !warned
              ? String.format(Locale.ROOT, "pass, %.1f s", result.duration().toMillis() / 1e3)
              : "FAIL: " + result.output());
    }
    EmittedTree emitted = new EmittedTree(tree, design.name());
    for (Linter linter : Linter.values()) {
      String complaints = linter.complaints(emitted);
      row.add(complaints.isEmpty() ? "0" : "FAIL: " + complaints);
    }
    row.add(isProved(one) ? RtlEquivalence.prove(emitted).size() : "with -Dwhole=true");
    return row;
  }
}

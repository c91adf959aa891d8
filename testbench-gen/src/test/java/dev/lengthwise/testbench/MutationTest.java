package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Emitted benches catch single faults in emitted text: table bits, operands, slices, selects,
 * carries, widths.
 *
 * <p>A fault counts as caught only if the generated bench, in Icarus Verilog or GHDL, reports a
 * mismatch. A fault that no simulator compiles does not count at all. A fault that no bench catches
 * must be proved to change nothing, by Yosys (Debian package yosys), which compares the lane with
 * and without the fault; GHDL translates VHDL for it.
 */
class MutationTest {

  private static final int VERILOG_FAULTS = 68;
  private static final int VHDL_FAULTS = 36;
  private static final int LEAST_IN_ALL = 300;
  private static final int RANDOM_VECTORS = 300;
  private static final int THREADS = 2;

  @TempDir Path work;

  /** How one fault ended. */
  private enum End {
    CAUGHT,
    EQUIVALENT,
    SURVIVED,
    DOES_NOT_COMPILE
  }

  /** Counts of one kind of fault. */
  private static final class Score {

    private final Map<Fault.Kind, Map<End, Integer>> counts = new EnumMap<>(Fault.Kind.class);
    private final List<String> survivors = new ArrayList<>();
    private final List<String> equivalent = new ArrayList<>();

    synchronized void add(Fault fault, End end, String description) {
      counts
          .computeIfAbsent(fault.kind(), kind -> new EnumMap<>(End.class))
          .merge(end, 1, Integer::sum);
      if (end == End.SURVIVED) {
        survivors.add(description);
      } else if (end == End.EQUIVALENT) {
        equivalent.add(description);
      }
    }

    int count(Fault.Kind kind, End end) {
      return counts.getOrDefault(kind, Map.of()).getOrDefault(end, 0);
    }

    int total(End end) {
      return counts.keySet().stream().mapToInt(kind -> count(kind, end)).sum();
    }

    void print() {
      counts.forEach((kind, ends) -> System.out.println(kind + " " + ends));
      System.out.println(
          "caught %s of %s faults that change anything; %s proved to change nothing"
              .formatted(
                  total(End.CAUGHT),
                  total(End.CAUGHT) + total(End.SURVIVED),
                  total(End.EQUIVALENT)));
      equivalent.forEach(text -> System.out.println("equivalent: " + text));
      survivors.forEach(text -> System.out.println("SURVIVED: " + text));
    }
  }

  @Test
  void benches_singleFaults_areCaughtOrChangeNothing() throws Exception {
    Score score = new Score();
    List<Future<?>> running = new ArrayList<>();
    ExecutorService threads = Executors.newFixedThreadPool(THREADS);
    try {
      for (Style style : Style.values()) {
        Design design = design(style);
        running.add(threads.submit(() -> run(design, true, score)));
        running.add(threads.submit(() -> run(design, false, score)));
      }
      for (Future<?> future : running) {
        future.get();
      }
    } finally {
      threads.shutdownNow();
      score.print();
    }
    assertThat(score.total(End.CAUGHT) + score.total(End.EQUIVALENT)).isAtLeast(LEAST_IN_ALL);
    assertThat(score.survivors).isEmpty();
    for (Fault.Kind kind : Fault.Kind.values()) {
      assertWithMessage("%s: caught", kind).that(score.count(kind, End.CAUGHT)).isGreaterThan(0);
    }
  }

  private static Design design(Style style) {
    Predecoder lane = Predecoder.of(small()).name("narrow_" + style.label()).build();
    return Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, style);
  }

  /** A small set with all kinds of row, so that its bench takes a part of a second. */
  private static InstructionSet small() {
    OperandSpecifier place =
        OperandSpecifier.named("place")
            .when("0xxx_xxxx", 0)
            .when(ModeCondition.ALWAYS, "10xx_xxxx", "xxxx_xxx0", 1)
            .when(ModeCondition.ALWAYS, "10xx_xxxx", "xxxx_xxx1", 3)
            .when("11xx_xxxx", 2)
            .build();
    return InstructionSet.of(
        LengthTable.named("narrow")
            .mode("wide")
            .map(
                "base",
                map -> {
                  map.rows(0x00, 0x3f).bytes(1);
                  map.rows(0x40, 0x5f).bytes(2).specifier(place);
                  map.rows(0x60, 0x6f).bytes(2).grows("wide", 1);
                  map.row(0x70)
                      .byNextByte(next -> next.when("0xxx_xxxx").bytes(3).others().undefined());
                  map.row(0x71).escape("more");
                  map.others().undefined();
                })
            .map("more", map -> map.rows(0x00, 0x0f).bytes(3).specifier(place).others().bytes(2))
            .build(),
        PrefixRules.builder().flips(0xf0, "wide").build(),
        7);
  }

  /** Makes faults in one language's files of a design until enough have compiled. */
  private Void run(Design design, boolean verilog, Score score) throws IOException {
    Path tree = work.resolve(design.name() + (verilog ? "_v" : "_vhd"));
    OutputTree.at(tree)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(RANDOM_VECTORS, 5))
        .write(design);
    Simulator simulator = verilog ? new IcarusVerilog() : new Ghdl(Ghdl.Edition.IEEE_1993);
    Path folder = tree.resolve(verilog ? "verilog" : "vhdl");
    List<Path> files = files(tree, design, verilog);
    Map<String, String> sources = new TreeMap<>();
    for (Path file : files) {
      sources.put(file.getFileName().toString(), Files.readString(file));
    }
    assertThat(simulator.run(tree, design.name()).passed()).isTrue();
    LaneProver prover = new LaneProver(tree, design.name(), verilog, files);
    int counted = 0;
    for (Fault fault : Fault.inTurn(sources, verilog, 2026)) {
      if (counted == (verilog ? VERILOG_FAULTS : VHDL_FAULTS)) {
        break;
      }
      String source = sources.get(fault.file());
      Path file = folder.resolve(fault.file());
      Files.writeString(file, fault.applied(source));
      End end = end(simulator.run(tree, design.name()), prover);
      Files.writeString(file, source);
      score.add(fault, end, fault.describe(source));
      counted += end == End.DOES_NOT_COMPILE ? 0 : 1;
    }
    return null;
  }

  private static List<Path> files(Path tree, Design design, boolean verilog) {
    WrittenDesign written = WrittenDesign.of(tree, design.name());
    return (verilog ? written.verilog() : written.vhdl()).stream().map(Path::of).toList();
  }

  private static End end(SimulationResult result, LaneProver prover) throws IOException {
    if (result.mismatches() > 0) {
      return End.CAUGHT;
    }
    if (!result.passed()) {
      return End.DOES_NOT_COMPILE;
    }
    return prover.isUnchanged() ? End.EQUIVALENT : End.SURVIVED;
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.suite.SuiteFunction;
import dev.lengthwise.lane.support.BitAccount;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.map.LutMapper;
import dev.lengthwise.logic.map.TimedMapping;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.Packing;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.logic.proof.Proof;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Realizer.TimedDesign;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.testbench.yardstick.BehaviouralVerilog;
import dev.lengthwise.verilog.Verilog;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.SplittableRandom;
import java.util.stream.Collectors;

/** A function that is mapped to LUTs by us and, from the same text, by a synthesis tool. */
sealed interface MappedFunction {

  /** Our figures for one LUT size. */
  record Figures(int luts, int sites, int levels, boolean proved, List<String> account) {}

  /** Returns the name in the table. */
  String name();

  /** Returns texts of the function in Verilog; the tool may take the one it does best with. */
  List<String> texts();

  /** Accounts for the bits that decide: which could go but for which rows, and which are alike. */
  List<String> bits();

  /** Returns the function with a bound on its levels, kept where further LUTs reach that. */
  MappedFunction withMostLevels(int levels);

  /** Maps the function and proves the result. */
  Figures map(DeviceProfile device, Effort effort);

  /** Maps the function for at least so long, and proves the result. */
  Figures mapFor(DeviceProfile device, Duration time);

  /**
   * Truth tables, the fewest LUTs first.
   *
   * @param name the name in the table
   * @param tables the function
   * @param formulas texts beside that of the table, which the tool may take
   * @param gates gates beside the table, which we may start from
   * @param mostLevels the levels that it may have, if a start is within that
   */
  record Tables(
      String name,
      TruthTables tables,
      List<String> formulas,
      Optional<LutNetwork> gates,
      int mostLevels)
      implements MappedFunction {

    /** Where there is a formula, more inputs have no case statement, which takes the tool long. */
    private static final int MOST_CASES = 12;

    /** Tables alone, without a bound on their levels. */
    Tables(String name, TruthTables tables) {
      this(name, tables, List.of(), Optional.empty(), Integer.MAX_VALUE);
    }

    /** Returns a function of the suite, without a bound on its levels. */
    static Tables of(SuiteFunction function) {
      return new Tables(
          function.name(),
          function.tables(),
          function.formulas(),
          function.gates(),
          Integer.MAX_VALUE);
    }

    /** Returns nine inputs and three outputs, each point a don't-care with probability 0.2. */
    static Tables random(int seed) {
      SplittableRandom random = new SplittableRandom(seed);
      List<TruthTable> outputs = new ArrayList<>();
      for (int output = 0; output < 3; output++) {
        long[] on = new long[8];
        long[] care = new long[8];
        for (int point = 0; point < 512; point++) {
          care[point >> 6] |= (random.nextDouble() >= 0.2 ? 1L : 0L) << point;
          on[point >> 6] |= (random.nextBoolean() ? 1L : 0L) << point;
        }
        outputs.add(TruthTable.ofWords(9, on, care));
      }
      return new Tables("random_" + seed, TruthTables.of(outputs));
    }

    @Override
    public List<String> texts() {
      List<String> texts = new ArrayList<>(formulas);
      if (texts.isEmpty() || tables.inputs() <= MOST_CASES) {
        texts.add(BehaviouralVerilog.of(tables));
      }
      return texts;
    }

    @Override
    public Tables withMostLevels(int levels) {
      return new Tables(name + "_in_" + levels + "_levels", tables, formulas, gates, levels);
    }

    @Override
    public List<String> bits() {
      return BitAccount.of(tables);
    }

    @Override
    public Figures map(DeviceProfile device, Effort effort) {
      LutNetwork network = mapper(device).withEffort(effort).map(tables);
      return figures(device, network, List.of(network.toString()));
    }

    @Override
    public Figures mapFor(DeviceProfile device, Duration time) {
      TimedMapping found = mapper(device).mapFor(tables, time);
      return figures(device, found.network(), found.account());
    }

    private LutMapper mapper(DeviceProfile device) {
      LutMapper mapper = LutMapper.forInputs(device.lutInputs()).withMostLevels(mostLevels);
      return gates.map(mapper::withGates).orElse(mapper);
    }

    private Figures figures(DeviceProfile device, LutNetwork network, List<String> said) {
      Proof proof = Equivalence.check(network, tables);
      List<String> account = new ArrayList<>(said);
      account.add(proof.detail());
      return new Figures(
          network.luts().size(),
          Packing.of(network, device.pairInputs()).sites().size(),
          network.levels(),
          proof.proved(),
          account);
    }
  }

  /**
   * A lane in style {@link Style#LUT_NETWORK}, the fewest LUTs first.
   *
   * @param name the name in the table
   * @param lane the lane
   * @param mostLevels the levels that it may have, if further LUTs reach that
   */
  record Lane(String name, Predecoder lane, int mostLevels) implements MappedFunction {

    @Override
    public Lane withMostLevels(int levels) {
      return new Lane(name + "_in_" + levels + "_levels", lane, levels);
    }

    /** A lane without a bound on its levels. */
    Lane(String name, Predecoder lane) {
      this(name, lane, Integer.MAX_VALUE);
    }

    /**
     * Returns the plain text of the lane, with don't-cares, and what we emit in style {@link
     * Style#ROM}, which has none but shares its operand specifiers.
     */
    @Override
    public List<String> texts() {
      Design rom = Realizer.on(DeviceProfile.sixInput()).realize(lane, Style.ROM);
      String emitted =
          new Verilog()
              .files(rom.circuit()).stream()
                  .filter(file -> file.path().endsWith(".v"))
                  .map(OutputFile::text)
                  .collect(Collectors.joining());
      return List.of(BehaviouralVerilog.of(lane), emitted);
    }

    @Override
    public List<String> bits() {
      return BitAccount.of(lane);
    }

    @Override
    public Figures map(DeviceProfile device, Effort effort) {
      Design design = realizer(device).withEffort(effort).realize(lane, Style.LUT_NETWORK);
      return figures(design, design.explain());
    }

    @Override
    public Figures mapFor(DeviceProfile device, Duration time) {
      TimedDesign found = realizer(device).realizeFor(lane, time);
      List<String> account = new ArrayList<>(found.account());
      account.addAll(found.design().explain());
      return figures(found.design(), account);
    }

    private Realizer realizer(DeviceProfile device) {
      return Realizer.on(device).withObjective(Objective.AREA).withMostLevels(mostLevels);
    }

    private static Figures figures(Design design, List<String> account) {
      BlockCost total = design.total();
      return new Figures(total.luts(), total.sites(), total.levels(), total.proved(), account);
    }
  }
}

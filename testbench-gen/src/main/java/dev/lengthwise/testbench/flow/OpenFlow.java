package dev.lengthwise.testbench.flow;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WorkFolder;
import dev.lengthwise.testbench.tool.WrittenDesign;
import dev.lengthwise.testbench.tool.YosysRun;
import dev.lengthwise.work.Work;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.IntStream;

/**
 * The open four-input flow: synthesizes what a {@link TimingTrial} wrote, places and routes it
 * (Debian packages {@code yosys} and {@code nextpnr-ice40}), and reads what came out of it.
 *
 * <p>One script of synthesis, and one place where placement begins, say little: other scripts give
 * a quarter more or less. So all scripts are tried unless fewer are asked for. The design is kept
 * apart from the block around it, so that LUTs and registers are its own, and nothing of it is
 * taken away that the block would not need.
 *
 * <p>The clock of {@link ClockConstraints} is what placement aims at. This version of the flow
 * reads no file of constraints; the period is told by an option. Immutable.
 */
public final class OpenFlow {

  private static final String YOSYS = "yosys";
  private static final String PLACER = "nextpnr-ice40";

  /**
   * How long translation and synthesis by all scripts may take, and a placement with its routing.
   */
  static final int MOST_SECONDS = 1200;

  private static final int MOST_SEEDS = 1000;

  private static final Pattern VERSION =
      Pattern.compile("(?:Yosys|GHDL) ([0-9][^ ]*)|\\(Version ([^ )]+)\\)");

  /** A way to synthesize. */
  public enum Script {
    /** The flow's own choice. */
    PLAIN("plain", ""),
    /** Logic is mapped twice. */
    TWO_PASSES("two_passes", " -abc2"),
    /** Sums and comparisons are LUTs, not carry chains. */
    NO_CARRY("no_carry", " -nocarry"),
    /** Logic is mapped with the delays of the device. */
    DELAYS("delays", " -abc9 -device hx");

    private final String label;
    private final String option;

    Script(String label, String option) {
      this.label = label;
      this.option = option;
    }

    /**
     * Returns the name in tables.
     *
     * @return lower snake case
     */
    public String label() {
      return label;
    }

    private String file(String suffix) {
      return label + suffix;
    }
  }

  private final FlowInput input;
  private final List<Script> scripts;
  private final int seeds;
  private final String yosys;
  private final String placer;

  /** Creates a flow of all scripts and five seeds that reads Verilog. */
  public OpenFlow() {
    this(FlowInput.VERILOG, List.of(Script.values()), 5, YOSYS, PLACER);
  }

  private OpenFlow(FlowInput input, List<Script> scripts, int seeds, String yosys, String placer) {
    this.input = input;
    this.scripts = scripts;
    this.seeds = seeds;
    this.yosys = yosys;
    this.placer = placer;
  }

  /** Returns a flow of other programs of the same options. */
  OpenFlow withPrograms(String synthesizer, String placerAndRouter) {
    return new OpenFlow(input, scripts, seeds, synthesizer, placerAndRouter);
  }

  /** Returns a flow that reads another text. */
  OpenFlow withInput(FlowInput text) {
    return new OpenFlow(text, scripts, seeds, yosys, placer);
  }

  /**
   * Returns a flow that reads what a {@link TimingTrial} wrote in VHDL, translated by GHDL (Debian
   * package {@code ghdl}). Its synthesis drops attributes: LUTs of a network are kept as they are
   * in Verilog, but RAM becomes the kind that the flow chooses.
   *
   * @return a new flow
   */
  public OpenFlow withVhdl() {
    return withInput(new VhdlInput(VhdlInput.GHDL));
  }

  /**
   * Returns a flow of other scripts. A network of LUTs that synthesis keeps needs one only.
   *
   * @param some at least one, each once
   * @return a new flow
   * @throws IllegalArgumentException if there is none, or one twice
   */
  public OpenFlow withScripts(Script... some) {
    List<Script> list = List.copyOf(Arrays.asList(some));
    if (list.isEmpty() || list.stream().distinct().count() < list.size()) {
      throw new IllegalArgumentException(
          "open flow: scripts, each once, are expected, found " + list);
    }
    return new OpenFlow(input, list, seeds, yosys, placer);
  }

  /**
   * Returns a flow that places and routes more or less often.
   *
   * @param count from seed 1 on, in [1, 1000]
   * @return a new flow
   * @throws IllegalArgumentException if the count is out of range
   */
  public OpenFlow withSeeds(int count) {
    if (count < 1 || count > MOST_SEEDS) {
      throw new IllegalArgumentException(
          "open flow: the seeds must be in [1, " + MOST_SEEDS + "], found " + count);
    }
    return new OpenFlow(input, scripts, count, yosys, placer);
  }

  /**
   * Returns the versions of the programs, which results depend on.
   *
   * @return all of them, with blanks between them
   * @throws IllegalStateException if a program is not installed, the message naming its Debian
   *     package
   */
  public String versions() {
    return String.format(
        Locale.ROOT,
        "yosys=%s nextpnr=%s%s",
        version(YOSYS, List.of(yosys, "-V")),
        version(PLACER, List.of(placer, "--version")),
        input
            .translator()
            .map(program -> " ghdl=" + version(VhdlInput.GHDL, List.of(program, "--version")))
            .orElse(""));
  }

  private static String version(String debianPackage, List<String> command) {
    String output = ToolRun.of(debianPackage, Path.of("."), MOST_SECONDS, command).output();
    Matcher version = VERSION.matcher(output);
    if (!version.find()) {
      throw new IllegalStateException(
          debianPackage + ": it must say its version, found " + output.strip());
    }
    return version.group(1) == null ? version.group(2) : version.group(1);
  }

  /**
   * Measures a design.
   *
   * @param tree the folder that a {@link TimingTrial} was written to, in the language of this flow
   * @param design the design's name
   * @return one result for each script
   * @throws IllegalStateException if a program is not installed, the message naming its Debian
   *     package, takes over 20 minutes, or fails, the message saying what it said last
   * @throws UncheckedIOException if the tree cannot be read
   * @throws CancelledException if the thread is interrupted; the programs are ended then too
   */
  public List<TimingResult> run(Path tree, String design) {
    Objects.requireNonNull(design, "design");
    String top = TimingTrial.top(design);
    String aim = ClockConstraints.megahertz(tree, design);
    try (WorkFolder work = WorkFolder.make()) {
      List<String> files = input.bring(WrittenDesign.of(tree, top), work.path());
      synthesize(work.path(), design, files);
      List<TimingResult.Trial> trials =
          Work.parallel(
              () ->
                  IntStream.range(0, scripts.size() * seeds)
                      .parallel()
                      .mapToObj(i -> place(work.path(), scripts.get(i / seeds), i % seeds + 1, aim))
                      .toList());
      List<TimingResult> results = new ArrayList<>();
      for (int i = 0; i < scripts.size(); i++) {
        Script script = scripts.get(i);
        CellCounts counts = CellCounts.parse(read(work.path(), script.file(".stat")), top);
        results.add(
            new TimingResult(
                design,
                script,
                counts.luts(),
                counts.registers(),
                counts.blockRams(),
                trials.subList(i * seeds, (i + 1) * seeds)));
      }
      return List.copyOf(results);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Synthesizes by every script; what they have in common takes most of the time and is shared. */
  private void synthesize(Path folder, String design, List<String> files) {
    String top = TimingTrial.top(design);
    StringBuilder commands = new StringBuilder("read_verilog ").append(String.join(" ", files));
    commands.append("; setattr -mod -set keep_hierarchy 1 ").append(design);
    input.kept(top).forEach(kept -> commands.append(' ').append(kept));
    String synthesis = "; synth_ice40 -top " + top + " -run ";
    commands.append(synthesis).append("begin:map_gates; design -save front");
    for (Script script : scripts) {
      commands.append("; design -load front");
      commands.append(synthesis).append("map_gates:").append(script.option);
      commands
          .append("; tee -q -o ")
          .append(script.file(".stat"))
          .append(" stat -top ")
          .append(top);
      commands.append("; write_json ").append(script.file(".json"));
    }
    ToolRun run =
        YosysRun.within(yosys, folder, MOST_SECONDS, commands.toString())
            .orElseThrow(
                () ->
                    new IllegalStateException(
                        "yosys: it must end within "
                            + MOST_SECONDS
                            + " seconds, found it running on "
                            + design));
    check(YOSYS, "synthesize", design, run);
  }

  private TimingResult.Trial place(Path folder, Script script, int seed, String aim) {
    Work.check();
    String report = script.file("." + seed + ".report");
    List<String> command = new ArrayList<>(List.of(placer, "--hx8k", "--package", "ct256", "-q"));
    command.addAll(List.of("--json", script.file(".json"), "--seed", Integer.toString(seed)));
    command.addAll(List.of("--freq", aim, "--timing-allow-fail", "--pcf-allow-unconstrained"));
    command.addAll(List.of("--report", report));
    ToolRun run = ToolRun.of(PLACER, folder, MOST_SECONDS, command);
    check(PLACER, "place and route", script.label, run);
    return ClockReport.parse(read(folder, report)).trial(seed);
  }

  static void check(String program, String work, String what, ToolRun run) {
    if (run.status() != 0) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "%s: it must %s %s, found status %d\n%s",
              program,
              work,
              what,
              run.status(),
              run.lastLines()));
    }
  }

  private static String read(Path folder, String file) {
    try {
      return Files.readString(folder.resolve(file));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

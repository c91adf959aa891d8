package dev.lengthwise.examples;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.examples.timing.CalibrationDesigns;
import dev.lengthwise.examples.timing.TimedDesigns;
import dev.lengthwise.examples.timing.TimedLane;
import dev.lengthwise.examples.timing.TimingFile;
import dev.lengthwise.examples.timing.TimingRow;
import dev.lengthwise.examples.timing.TimingRun;
import dev.lengthwise.examples.timing.TimingVerdict;
import dev.lengthwise.file.WriteLock;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.realize.Calibration;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.report.ClockPicture;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import me.tongfei.progressbar.ProgressBar;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Measures LUTs and clocks in the open flow, beside what was estimated. */
@Command(
    name = "timing",
    description = {
      "Synthesizes, places and routes designs in the open four-input flow (Debian packages yosys",
      "and nextpnr-ice40), and compares with our estimates."
    })
final class TimingExample implements Callable<Integer> {

  /** Adds what it measures to a run. */
  private interface Measurement {
    void add(TimingRun run) throws IOException;
  }

  @Option(
      names = "--only",
      paramLabel = "NAME",
      split = ",",
      description = "measure these designs only, for instance mcs51,tidegate_row")
  private List<String> only = List.of();

  @Option(
      names = "--set",
      paramLabel = "NAME",
      completionCandidates = SetOption.Names.class,
      description = {
        "measure the lane of this instruction set only: one of ${COMPLETION-CANDIDATES},",
        "or of your own, with its SetProvider on the class path"
      })
  private Optional<String> set = Optional.empty();

  @Option(
      names = "--style",
      split = ",",
      description = {
        "what lanes are made of: of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE}); networks are",
        "measured beside a text as written by hand"
      })
  private List<Style> styles = List.of(Style.LUT_NETWORK);

  @Option(
      names = "--seeds",
      paramLabel = "COUNT",
      description = "how often each is placed and routed (${DEFAULT-VALUE})")
  private int seeds = 5;

  @Option(
      names = "--fewer-levels",
      paramLabel = "COUNT",
      description = {
        "how many levels below those of a quick search networks are asked for, one by one, each",
        "in seconds or minutes (${DEFAULT-VALUE})"
      })
  private int fewerLevels = 1;

  @Option(
      names = "--calibration",
      description = {
        "measure the designs that the delays of the device are fitted to instead, of sets drawn",
        "at random, and fit them anew unless --only leaves some out"
      })
  private boolean calibration;

  /** The designs of a calibration, as they are measured. */
  private final Map<String, Design> drawn = new LinkedHashMap<>();

  @Mixin private OutFolder out = new OutFolder("timing");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    PrintWriter print = spec.commandLine().getOut();
    if (seeds < 1 || seeds > 1000) {
      throw wrong("--seeds: must be in [1, 1000], found " + seeds);
    }
    if (fewerLevels < 0) {
      throw wrong("--fewer-levels: must be at least 0, found " + fewerLevels);
    }
    if (calibration) {
      for (String other : List.of("--set", "--style", "--fewer-levels")) {
        if (spec.commandLine().getParseResult().hasMatchedOption(other)) {
          throw wrong("--calibration: must not be given with " + other + ", found both");
        }
      }
    }
    Map<String, Measurement> all = measurements();
    for (String name : only) {
      if (!all.containsKey(name)) {
        throw wrong("--only: one of " + all.keySet() + " is expected, found " + name);
      }
    }
    if (!only.isEmpty()) {
      all.keySet().retainAll(only);
    }
    Path folder = out.writable();
    TimingFile file;
    WriteLock lock = WriteLock.of(folder.resolve(TimingFile.NAME));
    try (lock;
        ProgressBar bar = ProgressBars.of("timing", all.size()).build()) {
      TimingRun run = new TimingRun(folder, seeds, fewerLevels);
      for (Map.Entry<String, Measurement> one : all.entrySet()) {
        bar.setExtraMessage(one.getKey());
        one.getValue().add(run);
        bar.step();
      }
      file = run.file();
    }
    print(file, List.copyOf(all.keySet()), print);
    List<ClockPicture.Point> points = points(file);
    if (!points.isEmpty()) {
      print.println("drawn in " + new ClockPicture(points).write(folder));
    }
    if (calibration && only.isEmpty()) {
      fit(file, print);
    }
    print.println("written to " + folder.resolve(TimingFile.NAME));
    return 0;
  }

  private Map<String, Measurement> measurements() {
    Map<String, Measurement> all = new LinkedHashMap<>();
    if (set.isPresent()) {
      NamedSet named = SetOption.find(set.get(), spec);
      all.put(named.name(), run -> lane(named.name(), TimedLane.of(named.lane()), run));
      return all;
    }
    if (calibration) {
      CalibrationDesigns.all()
          .forEach((name, design) -> all.put(name, run -> drawn(name, design, run)));
      return all;
    }
    TimedLane.all().forEach((name, lane) -> all.put(name, run -> lane(name, lane.get(), run)));
    TimedDesigns.all()
        .forEach((name, design) -> all.put(name, run -> run.design(name, design.get())));
    return all;
  }

  private static Realizer realizer() {
    return Realizer.on(DeviceProfile.fourInput());
  }

  private void drawn(String name, Supplier<Design> made, TimingRun run) throws IOException {
    Design design = made.get();
    drawn.put(name, design);
    run.design(name, design);
  }

  private void lane(String name, TimedLane lane, TimingRun run) throws IOException {
    for (Style style : styles) {
      if (style == Style.LUT_NETWORK) {
        run.lane(name, lane);
      } else {
        run.design(name, realizer().realize(lane.lane(), style));
      }
    }
  }

  /** Fits the delays to the best of all scripts of each design, by its median over the seeds. */
  private void fit(TimingFile file, PrintWriter print) {
    Calibration fitted = Calibration.on(DeviceProfile.fourInput());
    for (Map.Entry<String, Design> one : drawn.entrySet()) {
      double best =
          file.of(one.getKey(), style -> true).stream()
              .mapToDouble(row -> row.measured().median())
              .max()
              .orElseThrow();
      fitted = fitted.with(one.getValue(), best);
    }
    Calibration.Result result = fitted.fit();
    DeviceProfile profile = result.profile();
    print.printf(
        Locale.ROOT,
        "%s%nregister %s, level %s, wire %s, block RAM %s%n",
        result,
        profile.registerDelay(),
        profile.levelDelay(),
        profile.wireDelay(),
        profile.blockRamDelay());
  }

  private static List<ClockPicture.Point> points(TimingFile file) {
    List<ClockPicture.Point> points = new ArrayList<>();
    for (TimingRow row : file.rows()) {
      row.estimate()
          .ifPresent(
              e ->
                  points.add(
                      new ClockPicture.Point(
                          row.key().toString(), row.measured().median(), e.low(), e.high())));
    }
    return points;
  }

  private static void print(TimingFile file, List<String> names, PrintWriter print) {
    TextTable text =
        new TextTable(
            "design",
            "style",
            "script",
            "levels",
            "LUTs est.",
            "LUTs",
            "registers",
            "MHz est.",
            "MHz",
            "from",
            "to");
    for (String name : names) {
      for (TimingRow row : file.of(name, style -> true)) {
        TimingRow.Measured measured = row.measured();
        Optional<TimingRow.Estimate> estimate = row.estimate();
        text.row(
            name,
            row.key().style(),
            row.key().script(),
            estimate.map(e -> Integer.toString(e.levels())).orElse("-"),
            estimate.map(e -> Integer.toString(e.luts())).orElse("-"),
            measured.luts(),
            measured.registers(),
            estimate
                .map(e -> TimingRow.mhz(e.low()) + " to " + TimingRow.mhz(e.high()))
                .orElse("-"),
            TimingRow.mhz(measured.median()),
            TimingRow.mhz(measured.least()),
            TimingRow.mhz(measured.most()));
      }
    }
    print.println("MHz measured is the median of the seeds; registers around are not counted");
    print.println();
    print.println(text);
    names.forEach(name -> TimingVerdict.of(file, name).forEach(print::println));
  }

  private ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}

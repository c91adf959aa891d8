package dev.lengthwise.examples.timing;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.file.WholeFiles;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.cost.ClockEstimate;
import dev.lengthwise.study.make.ContentDigest;
import dev.lengthwise.testbench.flow.OpenFlow;
import dev.lengthwise.testbench.flow.TimingResult;
import dev.lengthwise.testbench.flow.TimingTrial;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Measures designs in the open flow, one after the other, and keeps the rows. */
public final class TimingRun {

  /** The style of a text as written by hand. */
  public static final String CASE_TEXT = "case_text";

  /** How the styles of networks begin; their numbers follow. */
  public static final String NETWORK = "network_";

  private final Path folder;
  private final OpenFlow flow;
  private final int fewerLevels;
  private final String common;
  private TimingFile file;

  /**
   * Goes on with what a folder has.
   *
   * @param folder where the file and the texts of trials are
   * @param seeds how often each design is placed and routed, at least 1
   * @param fewerLevels how often networks are asked for a level less than a quick search finds
   * @throws IOException if the file cannot be read
   */
  public TimingRun(Path folder, int seeds, int fewerLevels) throws IOException {
    this.folder = folder;
    this.fewerLevels = fewerLevels;
    this.flow = new OpenFlow().withSeeds(seeds);
    this.common =
        "device="
            + ContentDigest.of(DeviceProfile.fourInput())
            + " seeds="
            + seeds
            + ' '
            + flow.versions();
    this.file = TimingFile.in(folder);
  }

  /**
   * Returns the file as it is now.
   *
   * @return all rows, of this run and of those before
   */
  public TimingFile file() {
    return file;
  }

  /**
   * Measures a lane as its text and as networks, each unless it is in the file.
   *
   * @param name what rows call it
   * @param timed the lane
   * @throws IOException if something cannot be written
   */
  public void lane(String name, TimedLane timed) throws IOException {
    List<OutputFile> text = new TimingTrial(new Verilog()).files(timed.text());
    String module = text.get(text.size() - 1).path().replaceFirst(".*/(.*)_timing[.]f", "$1");
    String digest = ContentDigest.of(timed.text());
    if (!isThere(name, CASE_TEXT, "text=" + digest)) {
      Path tree = tree(name, CASE_TEXT);
      Map<Path, WholeFiles.Content> contents = new LinkedHashMap<>();
      for (OutputFile one : text) {
        contents.put(
            tree.resolve(one.path()), WholeFiles.text(one.text(), StandardCharsets.US_ASCII));
      }
      WholeFiles.write(contents);
      add(name, CASE_TEXT, Optional.empty(), flow.run(tree, module), "text=" + digest);
    }
    // Networks take minutes to make, so what they are made from is what tells rows apart.
    String lane = "lane=" + digest + " fewer_levels=" + fewerLevels;
    List<TimingRow> known = file.of(name, style -> style.startsWith(NETWORK));
    file.requireMade(folder, known, made(lane));
    if (known.isEmpty()) {
      List<TimingRow> rows = new ArrayList<>();
      for (Design design :
          Realizer.on(DeviceProfile.fourInput()).front(timed.lane(), fewerLevels)) {
        String style = NETWORK + (rows.size() + 1);
        Path tree = tree(name, style);
        OutputTree.at(tree).add(new TimingTrial(new Verilog())).write(design);
        List<TimingResult> results =
            flow.withScripts(OpenFlow.Script.PLAIN).run(tree, design.name());
        rows.addAll(rows(name, style, Optional.of(design), results, lane));
      }
      // All at once, as a file that has one of them is taken to have all.
      write(rows);
    }
  }

  /**
   * Measures a design that is no single network, unless it is in the file.
   *
   * @param name what rows call it
   * @param design the design
   * @throws IOException if something cannot be written
   */
  public void design(String name, Design design) throws IOException {
    String style = design.style().label();
    Path tree = tree(name, style);
    List<OutputFile> files = new TimingTrial(new Verilog()).files(design);
    String part = "text=" + ContentDigest.of(files);
    if (!isThere(name, style, part)) {
      OutputTree.at(tree).add(new TimingTrial(new Verilog())).write(design);
      add(name, style, Optional.of(design), flow.run(tree, design.name()), part);
    }
  }

  private Path tree(String name, String style) {
    return folder.resolve("trials").resolve(name + '_' + style);
  }

  private String made(String part) {
    return part + ' ' + common;
  }

  private boolean isThere(String name, String style, String part) {
    List<TimingRow> known = file.of(name, style::equals);
    file.requireMade(folder, known, made(part));
    return !known.isEmpty();
  }

  private void add(
      String name, String style, Optional<Design> design, List<TimingResult> results, String part)
      throws IOException {
    write(rows(name, style, design, results, part));
  }

  private List<TimingRow> rows(
      String name, String style, Optional<Design> design, List<TimingResult> results, String part) {
    return results.stream()
        .map(
            result ->
                new TimingRow(
                    new TimingRow.Key(name, style, result.script().label()),
                    design.map(TimingRun::estimate),
                    TimingRow.Measured.of(result),
                    made(part)))
        .toList();
  }

  private static TimingRow.Estimate estimate(Design design) {
    ClockEstimate clock = design.clock();
    return new TimingRow.Estimate(
        design.total().levels(), design.total().luts(), clock.lowMhz(), clock.highMhz());
  }

  private void write(List<TimingRow> rows) throws IOException {
    file = file.with(rows);
    file.write(folder);
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import dev.lengthwise.report.StudyPage;
import dev.lengthwise.study.sweep.StudyRow;
import dev.lengthwise.study.sweep.Sweep;
import dev.lengthwise.study.sweep.Variant;
import dev.lengthwise.study.workload.StudyStream;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.FileSystemException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import me.tongfei.progressbar.ProgressBar;
import picocli.CommandLine.ArgGroup;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Studies lanes of IA-32 or another set side by side on real code, and searches for a better. */
@Command(
    name = "ia32-study",
    description = {
      "Tries lanes of IA-32 or another set, from lean to full, on real code: LUTs, levels, shares,",
      "IPC.",
      "All figures are estimates."
    })
final class Ia32StudyExample implements Callable<Integer> {

  private static final Pattern PART = Pattern.compile("([0-9]{1,6})/([0-9]{1,6})");

  @Mixin private SetOption of = new SetOption("ia32");

  @ArgGroup(exclusive = false, multiplicity = "0..*")
  // A list that the parser can add to.
  private List<StudiedCode> codes = new ArrayList<>();

  @Option(names = "--code16", description = "read the code as a 16-bit segment")
  private boolean code16;

  @Option(
      names = "--style",
      description =
          "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE}); the others take seconds, but rank"
              + " lanes otherwise")
  private Style style = Style.LUT_NETWORK;

  @Option(
      names = "--undefined",
      description =
          "what lanes say of undefined opcodes, one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private UndefinedRows undefined = UndefinedRows.ANYTHING;

  @Option(
      names = "--only",
      split = ",",
      paramLabel = "LANE",
      description = "try some of the lanes, by the names that the table gives them")
  private List<String> only = List.of();

  @Option(
      names = "--decoder",
      paramLabel = "ITEMS",
      description = "items decoded in a cycle (${DEFAULT-VALUE})")
  private int decoder = 2;

  @Option(
      names = "--advise",
      paramLabel = "LUTS",
      description = "search for the best lane of at most so many LUTs, and write it")
  private Optional<Integer> advise = Optional.empty();

  @Option(
      names = "--left-out",
      description = "print what each range of rows that a lane leaves out would bring and cost")
  private boolean leftOut;

  @Option(
      names = "--part",
      paramLabel = "I/N",
      description = "evaluate the I-th of N slices; --merge puts their files together")
  private Optional<String> part = Optional.empty();

  @Option(
      names = "--merge",
      split = ",",
      paramLabel = "FILE",
      description = "files of all slices, to be merged instead of evaluated")
  private List<Path> merge = List.of();

  @Mixin private OutFolder out = new OutFolder("ia32-study");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    PrintWriter print = spec.commandLine().getOut();
    NamedSet set = of.set();
    of.requireIa32("--code16", code16, set);
    List<StudyStream> streams = streams(set);
    List<Variant> variants = variants(set);
    if (advise.isPresent() && advise.get() < 1) {
      throw wrongUse("--advise: LUTs must be at least 1, found " + advise.get());
    }
    if (part.isPresent() && !merge.isEmpty()) {
      throw wrongUse("--part: must not be given with --merge, found " + part.get());
    }
    Path folder = out.writable();
    Path file = folder.resolve("study.csv");
    StudyText text = new StudyText(print, variants, streams);
    text.streams();
    List<StudyRow> rows = rows(Sweep.of(variants, streams), file);
    text.table(rows);
    if (part.isEmpty()) {
      text.cycles();
      text.steps(rows);
    }
    if (leftOut) {
      text.leftOut(streams.get(0));
    }
    print.println("written to " + file);
    List<StudyPage.Advised> advised =
        advise.isEmpty()
            ? List.of()
            : new AdviceReport(print, folder.resolve("advised"), set, style, undefined)
                .run(advise.get(), variants, rows, streams);
    if (part.isEmpty()) {
      StudyPage page =
          new StudyPage(
              set.title() + " lanes on real code", rows, details(variants, streams), advised);
      print.println("written to " + page.write(folder));
    }
    return 0;
  }

  private List<Variant> variants(NamedSet set) {
    List<Variant> all = StudyLadder.variants(set, style, undefined, StudyLadder.frontEnd(decoder));
    List<String> names = all.stream().map(Variant::name).toList();
    for (String name : only) {
      if (!names.contains(name)) {
        throw wrongUse("ia32-study: a lane is one of " + names + ", found " + name);
      }
    }
    return all.stream().filter(v -> only.isEmpty() || only.contains(v.name())).toList();
  }

  private static List<StudyPage.Detail> details(List<Variant> variants, List<StudyStream> streams) {
    List<StudyPage.Detail> details = new ArrayList<>();
    for (StudyStream stream : streams) {
      for (Variant variant : variants) {
        details.add(
            new StudyPage.Detail(
                variant.name(),
                stream.name(),
                stream.accuracy(variant.lane()),
                stream.isOrdered()
                    ? Optional.of(stream.throughput(variant.lane(), variant.frontEnd()))
                    : Optional.empty()));
      }
    }
    return details;
  }

  private List<StudyRow> rows(Sweep sweep, Path file) throws IOException {
    try {
      return merge.isEmpty() ? evaluated(sweep, file) : sweep.merge(merge, file);
    } catch (FileSystemException e) {
      throw e;
    } catch (IOException e) { // a file that is not of this study
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
  }

  private List<StudyRow> evaluated(Sweep sweep, Path file) throws IOException {
    Sweep slice = sweep;
    if (part.isPresent()) {
      Matcher match = PART.matcher(part.get());
      if (!match.matches()) {
        throw wrongUse("ia32-study: a slice i/n is expected, found " + part.get());
      }
      slice = sweep.withPart(Integer.parseInt(match.group(1)), Integer.parseInt(match.group(2)));
    }
    try (ProgressBar bar = ProgressBars.of("variants", 0).build()) {
      return slice
          .withProgress(
              (finished, all) -> {
                bar.maxHint(all);
                bar.stepTo(finished);
              })
          .run(file);
    }
  }

  /** Returns the user's streams, or the two that were recorded. */
  private List<StudyStream> streams(NamedSet set) throws IOException {
    if (codes.isEmpty()) {
      if (code16 || !SetCode.isUsual(set)) {
        throw wrongUse("ia32-study: name the code with --image, found none");
      }
      return List.of(recorded(RecordedTrace.TIDEGATE_O2), recorded(RecordedTrace.TIDEGATE_OS));
    }
    List<StudyStream> streams = new ArrayList<>();
    try {
      for (StudiedCode code : codes) {
        streams.add(code.stream(set, code16 ? Ia32.MODES_16 : set.modes()));
      }
    } catch (IOException e) {
      throw new ParameterException(spec.commandLine(), WrongUse.text(e), e);
    }
    return streams;
  }

  private static StudyStream recorded(RecordedTrace recorded) throws IOException {
    return StudyStream.of(
        recorded.stream(), Ia32.instructionSet(), Ia32.MODES_32, recorded::replay);
  }

  private ParameterException wrongUse(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}

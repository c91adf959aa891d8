package dev.lengthwise.examples;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.study.StudyRow;
import dev.lengthwise.study.StudyStream;
import dev.lengthwise.study.Sweep;
import dev.lengthwise.study.Variant;
import dev.lengthwise.table.InstructionSet;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import me.tongfei.progressbar.ProgressBar;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Studies IA-32 lanes side by side on real code, and searches for a better one. */
@Command(
    name = "ia32-study",
    mixinStandardHelpOptions = true,
    description = {
      "Tries IA-32 lanes from lean to full on real code: LUTs, levels, shares, IPC.",
      "All figures are estimates."
    })
final class Ia32StudyExample implements Callable<Integer> {

  private static final Pattern PART = Pattern.compile("([0-9]{1,6})/([0-9]{1,6})");

  @Option(
      names = "--image",
      paramLabel = "FILE",
      description = "ELF or raw file with code; a recorded trace if not given")
  private Optional<Path> image = Optional.empty();

  @Option(
      names = "--trace",
      paramLabel = "FILE",
      description = "trace of the image's code; without one, the image is run once from end to end")
  private Optional<Path> trace = Optional.empty();

  @Option(
      names = "--other-image",
      paramLabel = "FILE",
      description = "a second file with code, which no search looks at")
  private Optional<Path> otherImage = Optional.empty();

  @Option(
      names = "--other-trace",
      paramLabel = "FILE",
      description = "trace of the second file's code")
  private Optional<Path> otherTrace = Optional.empty();

  @Option(names = "--code16", description = "read the code as a 16-bit segment")
  private boolean code16;

  @Option(
      names = "--style",
      description =
          "one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE}); LUT_NETWORK takes many minutes")
  private Style style = Style.BANKED;

  @Option(
      names = "--undefined",
      description =
          "what lanes say of undefined opcodes, one of ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private UndefinedRows undefined = UndefinedRows.ANYTHING;

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

  @Option(names = "--out", paramLabel = "DIR", description = "where to write (${DEFAULT-VALUE})")
  private Path out = Path.of("examples", "target", "ia32-study");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter print = spec.commandLine().getOut();
    List<StudyStream> streams = streams();
    List<Variant> variants = StudyLadder.variants(style, undefined, StudyLadder.frontEnd(decoder));
    Path file = out.resolve("study.csv");
    StudyText text = new StudyText(print, variants, streams);
    text.streams();
    List<StudyRow> rows = rows(Sweep.of(variants, streams), file);
    text.table(rows);
    if (part.isEmpty()) {
      text.cycles();
      text.steps(rows);
    }
    print.println("written to " + file);
    if (advise.isPresent()) {
      new AdviceReport(print, out.resolve("advised"), style, undefined)
          .run(advise.get(), variants, rows, streams);
    }
    return 0;
  }

  private List<StudyRow> rows(Sweep sweep, Path file) throws IOException, InterruptedException {
    if (!merge.isEmpty()) {
      return sweep.merge(merge, file);
    }
    Sweep slice = sweep;
    if (part.isPresent()) {
      Matcher match = PART.matcher(part.get());
      if (!match.matches()) {
        throw wrongUse("ia32-study: a slice i/n is expected, found " + part.get());
      }
      slice = sweep.part(Integer.parseInt(match.group(1)), Integer.parseInt(match.group(2)));
    }
    try (ProgressBar bar = new ProgressBar("variants", 0)) {
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
  private List<StudyStream> streams() throws IOException {
    if (image.isEmpty()) {
      if (trace.isPresent() || otherImage.isPresent() || code16) {
        throw wrongUse("ia32-study: name the code with --image, found none");
      }
      return List.of(recorded(RecordedTrace.TIDEGATE_O2), recorded(RecordedTrace.TIDEGATE_OS));
    }
    List<StudyStream> streams = new ArrayList<>();
    streams.add(stream(image.get(), trace));
    if (otherImage.isPresent() || otherTrace.isPresent()) {
      // Two traces may be of the same code.
      streams.add(stream(otherImage.orElse(image.get()), otherTrace));
    }
    return streams;
  }

  private static StudyStream recorded(RecordedTrace recorded) throws IOException {
    return StudyStream.of(
        recorded.stream(), Ia32.instructionSet(), Ia32.MODES_32, recorded::replay);
  }

  private StudyStream stream(Path file, Optional<Path> order) {
    InstructionSet set = Ia32.instructionSet();
    int modes = code16 ? Ia32.MODES_16 : Ia32.MODES_32;
    try {
      CodeImage code = CodeImage.read(file);
      return order.isPresent()
          ? StudyStream.ofTrace(order.get().getFileName().toString(), set, modes, code, order.get())
          : StudyStream.ofImage(file.getFileName().toString(), set, modes, code);
    } catch (IOException e) {
      throw new ParameterException(spec.commandLine(), e.getMessage(), e);
    }
  }

  private ParameterException wrongUse(String message) {
    return new ParameterException(spec.commandLine(), message);
  }
}

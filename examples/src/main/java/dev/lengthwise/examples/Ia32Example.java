package dev.lengthwise.examples;

import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.Ia32Extension;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.study.workload.LinearSweep;
import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Measures real code with the description of IA-32 or another set, and builds its lane. */
@Command(
    name = "ia32",
    description =
        "Measures an ELF or raw file as code of IA-32 or another set and builds its pre-decoder.")
final class Ia32Example implements Callable<Integer> {

  @Mixin private SetOption of = new SetOption("ia32");

  @Option(names = "--image", paramLabel = "FILE", description = "ELF or raw file with code")
  private Optional<Path> image = Optional.empty();

  @Option(names = "--raw", description = "take all bytes of the file as code, whatever it is")
  private boolean raw;

  @Option(names = "--code16", description = "read the code as a 16-bit segment")
  private boolean code16;

  @Option(
      names = "--with",
      split = ",",
      paramLabel = "NAME",
      description = {
        "extensions to describe too, none if not given; EVEX, for instance, or several with"
            + " commas:",
        "${COMPLETION-CANDIDATES}"
      })
  private List<Ia32Extension> extensions = List.of();

  @Option(
      names = "--style",
      split = ",",
      description = "what to build it of: ${COMPLETION-CANDIDATES} (${DEFAULT-VALUE})")
  private List<Style> styles = List.of(Style.ROM, Style.BANKED);

  @Mixin private OutFolder out = new OutFolder("ia32");

  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter print = spec.commandLine().getOut();
    NamedSet set = of.set();
    of.requireIa32("--code16", code16, set);
    of.requireIa32("--with", !extensions.isEmpty(), set);
    if (image.isEmpty() && !SetCode.isUsual(set)) {
      throw new ParameterException(
          spec.commandLine(), "ia32: name the code with --image, found none");
    }
    Optional<Path> file = image.or(() -> UsualCode.first(UsualCode.FILES));
    Path folder = out.writable();
    Predecoder lane =
        extensions.isEmpty()
            ? set.lane()
            : Predecoder.builder(Ia32.instructionSet(extensions.toArray(Ia32Extension[]::new)))
                .build();
    try {
      new Measurement(lane, code16 ? Ia32.MODES_16 : set.modes(), title(set))
          .print(
              file.isPresent()
                  ? SetCode.read(set, file.get(), raw)
                  : RecordedTrace.TIDEGATE_O2.stream().image(),
              print,
              file.map(Path::toString).orElse("tidegate_o2, as recorded,"));
    } catch (IOException e) {
      throw new ParameterException(spec.commandLine(), WrongUse.text(e), e);
    }
    return new LaneReport(print, folder).run(lane, styles) ? 0 : 1;
  }

  private String title(NamedSet set) {
    return set.name().equals("ia32") ? (code16 ? "16-bit " : "32-bit ") + set.title() : set.title();
  }

  /** Counts instructions by length and by whether the lane handles them. */
  private static final class Measurement {

    private final GoldenModel truth;
    private final LaneModel lane;
    private final int modes;
    private final String title;
    private final long[] byLength;
    private long instructions;
    private long handled;
    private long skipped;
    private long stretches;

    Measurement(Predecoder lane, int modes, String title) {
      this.truth = GoldenModel.of(lane.instructionSet());
      this.lane = LaneModel.of(lane);
      this.modes = modes;
      this.title = title;
      this.byLength = new long[lane.instructionSet().longest() + 1];
    }

    void print(CodeImage image, PrintWriter out, String name) {
      for (CodeImage.Section section : image.sections()) {
        measure(section.code());
      }
      out.printf(
          Locale.ROOT,
          "%s read as %s code%n%d instructions; %s%n",
          ShownText.of(name),
          title,
          instructions,
          new LinearSweep(TraceCounts.NONE, image.size(), skipped, stretches).skippedText());
      TextTable table = new TextTable("length", "instructions", "share");
      for (int length = 1; length < byLength.length; length++) {
        table.row(length, byLength[length], share(byLength[length]));
      }
      out.print(table);
      out.printf(
          Locale.ROOT,
          "the lane handles %s of them, a prefix being an item of one byte%n%n",
          share(handled));
    }

    private void measure(byte[] code) {
      int offset = 0;
      boolean skipping = false;
      while (offset < code.length) {
        int length = truth.lengthAt(modes, code, offset);
        if (length <= 0) {
          offset++;
          skipped++;
          stretches += skipping ? 0 : 1;
          skipping = true;
          continue;
        }
        skipping = false;
        instructions++;
        byLength[length]++;
        handled += isHandled(code, offset, length) ? 1 : 0;
        offset += length;
      }
    }

    /**
     * Follows the items of one instruction: its prefixes, whose effect the pipeline keeps, and the
     * rest.
     */
    private boolean isHandled(byte[] code, int offset, int length) {
      int end = offset + length;
      int cursor = offset;
      int current = modes;
      while (cursor < end) {
        int said = lane.lengthAt(current, code, cursor);
        var prefix = truth.instructionSet().prefixes().prefix(code[cursor] & 0xff);
        if (said == LaneModel.NOT_HANDLED || prefix.isEmpty()) {
          return cursor + said == end;
        }
        current = prefix.get().apply(truth.instructionSet().table().modes(), modes, current);
        cursor += said;
      }
      return false;
    }

    private String share(long count) {
      return String.format(Locale.ROOT, "%.2f%%", 100.0 * count / Math.max(1, instructions));
    }
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.file.ShownText;
import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.Ia32Extension;
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

/** Measures real code with the IA-32 description, and builds a lane that handles it. */
@Command(
    name = "ia32",
    description = "Measures an ELF or raw file as IA-32 code and builds a pre-decoder for it.")
final class Ia32Example implements Callable<Integer> {

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
        "extensions to describe too, none if not given; EVEX, for instance, or several with commas:",
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
    Optional<Path> file = image.or(() -> UsualCode.first(UsualCode.FILES));
    Path folder = out.writable();
    Predecoder lane =
        Predecoder.builder(Ia32.instructionSet(extensions.toArray(Ia32Extension[]::new))).build();
    try {
      new Measurement(lane, code16 ? Ia32.MODES_16 : Ia32.MODES_32)
          .print(
              file.isPresent()
                  ? Ia32Code.read(file.get(), raw)
                  : RecordedTrace.TIDEGATE_O2.stream().image(),
              print,
              file.map(Path::toString).orElse("tidegate_o2, as recorded,"));
    } catch (IOException e) {
      throw new ParameterException(spec.commandLine(), WrongUse.text(e), e);
    }
    return new LaneReport(print, folder).run(lane, styles) ? 0 : 1;
  }

  /** Counts instructions by length and by whether the lane handles them. */
  private static final class Measurement {

    private final GoldenModel truth;
    private final LaneModel lane;
    private final int modes;
    private final long[] byLength;
    private long instructions;
    private long handled;
    private long skipped;
    private long stretches;

    Measurement(Predecoder lane, int modes) {
      this.truth = GoldenModel.of(lane.instructionSet());
      this.lane = LaneModel.of(lane);
      this.modes = modes;
      this.byLength = new long[lane.instructionSet().longest() + 1];
    }

    void print(CodeImage image, PrintWriter out, String name) {
      for (CodeImage.Section section : image.sections()) {
        measure(section.code());
      }
      out.printf(
          Locale.ROOT,
          "%s read as %d-bit IA-32 code%n%d instructions; %s%n",
          ShownText.of(name),
          modes == Ia32.MODES_32 ? 32 : 16,
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

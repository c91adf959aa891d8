package dev.lengthwise.examples;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeSection;
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

  @Option(names = "--code16", description = "read the code as a 16-bit segment")
  private boolean code16;

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
    Path file = image.orElseGet(this::usual);
    Path folder = out.writable();
    Predecoder lane = Predecoder.of(Ia32.instructionSet()).build();
    try {
      new Measurement(lane, code16 ? Ia32.MODES_16 : Ia32.MODES_32)
          .print(CodeImage.read(file), print, file);
    } catch (IOException e) {
      throw new ParameterException(spec.commandLine(), WrongUse.text(e), e);
    }
    return new LaneReport(print, folder).run(lane, styles) ? 0 : 1;
  }

  private Path usual() {
    return UsualCode.first(UsualCode.FILES)
        .orElseThrow(
            () ->
                new ParameterException(
                    spec.commandLine(),
                    "ia32: name a file with --image, found none of " + UsualCode.FILES));
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

    Measurement(Predecoder lane, int modes) {
      this.truth = GoldenModel.of(lane.instructionSet());
      this.lane = LaneModel.of(lane);
      this.modes = modes;
      this.byLength = new long[lane.instructionSet().longest() + 1];
    }

    void print(CodeImage image, PrintWriter out, Path file) {
      for (CodeSection section : image.sections()) {
        measure(section.code());
      }
      out.printf(
          Locale.ROOT,
          "%s read as %d-bit IA-32 code%n%d instructions, %d bytes skipped where none starts%n",
          file,
          modes == Ia32.MODES_32 ? 32 : 16,
          instructions,
          skipped);
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
      while (offset < code.length) {
        int length = truth.lengthAt(code, offset, modes);
        if (length <= 0) {
          offset++;
          skipped++;
          continue;
        }
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
        int said = lane.lengthAt(code, cursor, current);
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

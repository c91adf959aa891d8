package dev.lengthwise.study;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.study.workload.LinearSweep;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Path;

/** Debian's 32-bit C library as a stream of IA-32 instructions, each once. */
public final class Libc32 {

  public static final GoldenModel TRUTH = GoldenModel.of(Ia32.instructionSet());

  static final Path FILE = Path.of("/usr/i686-linux-gnu/lib/libc.so.6");

  private Libc32() {}

  public static CodeStream stream() {
    Tool.installed(FILE, "libc6-i386-cross");
    try {
      CodeImage image = CodeImage.read(FILE);
      return new CodeStream("libc", image, LinearSweep.of(TRUTH, image, Ia32.MODES_32).counts());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

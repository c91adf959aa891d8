package dev.lengthwise.javamodel;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The emitted IA-32 models on over 10 MB of real code and on random bytes, at every offset. */
@CallsTools
class RealCodeTest {

  /** Debian's C library for IA-32, from package libc6-i386-cross. */
  private static final Path LIBRARY = Path.of("/usr/i686-linux-gnu/lib/libc.so.6");

  private static final int REAL_BYTES = 10_500_000;
  private static final int RANDOM_BYTES = 2_000_000;

  @TempDir Path folder;

  @Test
  void models_tenMegabytesOfCode_sayWhatGoldenSays() throws Throwable {
    Predecoder lane = Predecoder.builder(Ia32.instructionSet()).build();
    Comparison comparison =
        new Comparison(CompiledModel.of(new JavaModel().files(lane), folder), lane);
    byte[] code = code();
    int bytes = 0;
    // The library has less code than that: each pass drops some of its first bytes, changes modes,
    // and so is another set of cases for the models.
    for (int pass = 0; bytes < REAL_BYTES; pass++) {
      byte[] passed = Arrays.copyOfRange(code, pass, code.length);
      comparison.lengthsAtEveryOffset(passed, (Ia32.MODES_32 + pass) % 4);
      bytes += passed.length;
    }
    byte[] random = new byte[RANDOM_BYTES];
    new SplittableRandom(42).nextBytes(random);
    comparison.everyOffset(random);
    comparison.everyOffset(code);
    assertThat(bytes).isAtLeast(10_000_000);
  }

  private static byte[] code() throws IOException {
    if (!Files.isRegularFile(LIBRARY)) {
      throw new AssertionError("file " + LIBRARY + ": install the Debian package libc6-i386-cross");
    }
    return CodeImage.read(LIBRARY).sections().stream()
        .filter(section -> section.name().equals(".text"))
        .findFirst()
        .orElseThrow()
        .code();
  }
}

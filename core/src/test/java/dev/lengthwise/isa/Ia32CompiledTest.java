package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Compares the boundaries of compiled loops with GNU objdump, with and without extensions. */
@CallsTools
class Ia32CompiledTest {

  @TempDir Path directory;

  @Test
  void boundaries_ofEvexCode_equalObjdumpWithEvex() throws IOException {
    List<String> undefined =
        undefinedWithout(
            "-mavx512f", "-mavx512vl", "-mavx512bw", "-mavx512dq", "-mprefer-vector-width=512");
    assertThat(undefined.size()).isGreaterThan(50);
    compare(Ia32Extension.EVEX);
  }

  @Test
  void boundaries_ofHalfPrecisionCode_equalObjdumpWithEvex() throws IOException {
    List<String> undefined = undefinedWithout("-mavx512fp16", "-mavx512vl", "-DHALF");
    assertThat(undefined.stream().filter(text -> text.contains("ph ")).count()).isGreaterThan(3L);
    compare(Ia32Extension.EVEX);
  }

  @Test
  void boundaries_ofXopCode_equalObjdumpWithXopAndFma4() throws IOException {
    List<String> undefined = undefinedWithout("-mxop", "-mfma4", "-mtbm");
    assertThat(undefined.stream().filter(text -> text.startsWith("vpcmov")).count())
        .isGreaterThan(3L);
    assertThat(undefined.stream().anyMatch(text -> text.startsWith("vfmaddps"))).isTrue();
    assertThat(undefined.stream().anyMatch(text -> text.startsWith("bextr"))).isTrue();
    compare(Ia32Extension.XOP, Ia32Extension.FMA4);
  }

  /** Compiles the loops; returns the instructions that are undefined without extensions. */
  private List<String> undefinedWithout(String... flags) throws IOException {
    Path source = directory.resolve("loops.c");
    try (InputStream in = Ia32CompiledTest.class.getResourceAsStream("loops.c")) {
      Files.copy(in, source);
    }
    List<Object> arguments = new ArrayList<>(List.of("-m32", "-O3", "-ffast-math", "-fno-pic"));
    arguments.addAll(List.of(flags));
    arguments.addAll(List.of("-ffreestanding", "-c", "-o", object(), source));
    Tool.named("gcc", "gcc").run(60, arguments.toArray());
    GoldenModel model = GoldenModel.of(Ia32.instructionSet());
    List<String> found = new ArrayList<>();
    Listing.Section code = code();
    byte[] bytes = code.bytes();
    for (Listing.Line line : code.lines()) {
      int length = model.lengthAt(Ia32.MODES_32, bytes, line.start());
      if (length <= 0) {
        found.add(line.text());
      } else {
        assertWithMessage(line.text()).that(length).isEqualTo(line.length());
      }
    }
    return found;
  }

  private void compare(Ia32Extension... extensions) {
    GoldenModel model = GoldenModel.of(Ia32.instructionSet(extensions));
    Listing.Section code = code();
    byte[] bytes = code.bytes();
    assertThat(code.lines().size()).isGreaterThan(500);
    for (Listing.Line line : code.lines()) {
      assertWithMessage(line.text())
          .that(model.lengthAt(Ia32.MODES_32, bytes, line.start()))
          .isEqualTo(line.length());
    }
  }

  private Listing.Section code() {
    return Listing.of(60, "--section=.text", object()).sections().get(0);
  }

  private Path object() {
    return directory.resolve("loops.o");
  }
}

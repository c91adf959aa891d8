package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.Arrays;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CodeImageTest {

  private static final Path JAVA = Path.of(System.getProperty("java.home"), "bin", "java");

  @TempDir Path folder;

  private Path file(byte[] bytes) throws IOException {
    return Files.write(folder.resolve("image"), bytes);
  }

  @Test
  void read_rawFile_isOneSection() throws IOException {
    CodeImage image = CodeImage.read(file(new byte[] {1, 2, 3}));
    assertThat(image.sections()).hasSize(1);
    assertThat(image.sections().get(0).code()).isEqualTo(new byte[] {1, 2, 3});
  }

  @Test
  void read_program_hasItsText() throws IOException {
    CodeImage image = CodeImage.read(JAVA);
    CodeImage.Section text =
        image.sections().stream().filter(s -> s.name().equals(".text")).findFirst().orElseThrow();
    assertThat(text.code().length).isGreaterThan(100);
    assertThat(text.address()).isGreaterThan(0L);
  }

  @Test
  void read_emptyFile_saysSo() throws IOException {
    Path file = file(new byte[0]);
    assertThat(assertThrows(IOException.class, () -> CodeImage.read(file)))
        .hasMessageThat()
        .isEqualTo(file + ": a file with code is expected, found no executable byte");
  }

  @Test
  void read_missingFile_namesIt() {
    Path file = folder.resolve("none");
    assertThat(assertThrows(NoSuchFileException.class, () -> CodeImage.read(file)))
        .hasMessageThat()
        .isEqualTo(file.toString());
  }

  @Test
  void read_programCutAnywhere_namesFileOrFindsWholeSections() throws IOException {
    byte[] whole = Files.readAllBytes(JAVA);
    int refused = 0;
    for (int length = 4; length < whole.length; length += Math.max(1, whole.length / 200)) {
      Path file = file(Arrays.copyOf(whole, length));
      refused += isRefused(file) ? 1 : 0;
    }
    assertThat(refused).isGreaterThan(190);
  }

  private static boolean isRefused(Path file) {
    try {
      CodeImage.read(file);
      return false;
    } catch (IOException e) {
      assertThat(e).hasMessageThat().startsWith(file + ": ");
      return true;
    }
  }
}

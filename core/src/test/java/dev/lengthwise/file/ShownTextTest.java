package dev.lengthwise.file;

import static com.google.common.truth.Truth.assertThat;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class ShownTextTest {

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "tide.elf|tide.elf",
        "Schleuse ü 水門 😀|Schleuse ü 水門 😀",
        "a\u001b[2Jb|a\\u001b[2Jb",
        "a\u0085b|a\\u0085b",
        "fle.\u202eexe|fle.\\u202eexe",
        "\u2066x\u200d|\\u2066x\\u200d",
        "a\u2028b|a\\u2028b",
        "a\ud800b|a\\ud800b",
      })
  void of_whatIsNotPrintedAsItStands_isShownByItsNumber(String text, String shown) {
    assertThat(ShownText.of(text)).isEqualTo(shown);
    assertThat(ShownText.ofLines(text)).isEqualTo(shown);
  }

  @Test
  void of_linesAndTabs() {
    assertThat(ShownText.of("a\tb\r\n")).isEqualTo("a\\u0009b\\u000d\\u000a");
    assertThat(ShownText.ofLines("a\tb\r\n")).isEqualTo("a\tb\\u000d\n");
  }

  /** What the system says without a subject gets one; what has one is left as it is. */
  @Test
  void fault_names() {
    assertThat(FileFault.reading("x.elf", new NoSuchFileException("x.elf")))
        .hasMessageThat()
        .isEqualTo("x.elf: a file is expected, found none");
    assertThat(FileFault.reading("x.elf", new AccessDeniedException("x.elf")))
        .hasMessageThat()
        .isEqualTo("x.elf: a file that can be read is expected, found no right to it");
    assertThat(
            FileFault.writing(Path.of("x\u0007.csv"), new IOException("No space left on device")))
        .hasMessageThat()
        .isEqualTo(
            "x\\u0007.csv: a file that can be written is expected, found \"No space left on device\"");
    IOException named = new IOException("x.elf, line 3: a blank is expected, found '1'");
    assertThat(FileFault.reading("x.elf", named)).isSameInstanceAs(named);
  }
}

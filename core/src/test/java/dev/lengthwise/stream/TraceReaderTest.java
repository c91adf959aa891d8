package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class TraceReaderTest {

  @TempDir Path folder;

  private static List<String> read(byte[] bytes) throws IOException {
    List<String> found = new ArrayList<>();
    long count =
        TraceReader.read(
            new ByteArrayInputStream(bytes),
            "gate",
            (address, length) -> found.add(Long.toHexString(address) + "/" + length));
    assertThat(count).isEqualTo((long) found.size());
    return found;
  }

  private static byte[] ascii(String text) {
    return text.getBytes(StandardCharsets.ISO_8859_1);
  }

  private static byte[] gzip(byte[] bytes) throws IOException {
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (var out = new GZIPOutputStream(packed)) {
      out.write(bytes);
    }
    return packed.toByteArray();
  }

  @Test
  void read_text_isHex() throws IOException {
    assertThat(read(ascii("# gate\n8049640 2\r\n0x8049642\t0xa \n\n  ffffffffffffffff 3f")))
        .containsExactly("8049640/2", "8049642/10", "ffffffffffffffff/63")
        .inOrder();
  }

  /** The lines are those of valgrind 3.19's lackey tool with {@code --trace-mem=yes}. */
  @Test
  void read_memoryTracer_takesFetchesAlone() throws IOException {
    String text =
        """
        ==20666== Lackey, an example Valgrind tool
        ==20666==\s
        I  08049640,2
         L fef198e0,4
        I  0804964b,11
         S fef198dc,4
         M fef198dc,4
        --20666-- remark
        """;
    assertThat(read(ascii(text))).containsExactly("8049640/2", "804964b/11").inOrder();
  }

  @Test
  void read_gzipOfTwoMembers_isBoth() throws IOException {
    byte[] first = gzip(ascii("10 1\n"));
    byte[] second = gzip(ascii("11 2\n"));
    byte[] both = Arrays.copyOf(first, first.length + second.length);
    System.arraycopy(second, 0, both, first.length, second.length);
    assertThat(read(both)).containsExactly("10/1", "11/2").inOrder();
    assertThat(read(new byte[0])).isEmpty();
  }

  @Test
  void read_gzipCutAnywhere_saysSo() throws IOException {
    byte[] whole = gzip(ascii("10 1\n".repeat(1000)));
    for (int length = 3; length < whole.length; length++) {
      byte[] cut = Arrays.copyOf(whole, length);
      IOException e = assertThrows(IOException.class, () -> read(cut));
      assertThat(e).hasMessageThat().startsWith("gate");
      assertThat(e).hasMessageThat().contains("a whole gzip ");
    }
    byte[] more = Arrays.copyOf(whole, whole.length + 5);
    assertThat(assertThrows(IOException.class, () -> read(more)))
        .hasMessageThat()
        .isEqualTo(
            "gate, line 1001: a whole gzip file is expected, found bytes behind its end that are no"
                + " further gzip member");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "1g 2|line 2: a blank behind the address is expected, found 'g'",
        "80496|line 2: a blank behind the address is expected, found the end of the file",
        "'80496 '|line 2: a hex digit is expected, found the end of the file",
        "80496 x|line 2: a hex digit is expected, found 'x'",
        "80496 0|line 2: a length must be in [1, 63] bytes, found 0",
        "80496 40|line 2: a length must be in [1, 63] bytes, found 64",
        "80496 2 3|line 2: the end of the line is expected, found '3'",
        "80496 2;|line 2: the end of the line is expected, found ';'",
        "10000000000000000 2|line 2: a number of at most 16 hex digits is expected, found more",
        "I  80496|line 2: a comma behind the address is expected, found the end of the file",
        "I  80496,|line 2: a decimal digit is expected, found the end of the file",
        "I  80496,64|line 2: a length must be in [1, 63] bytes, found 64",
        "I80496,2|line 2: a blank behind I is expected, found '8'",
        "I  80496,99999999999999999999|line 2: a number below 2^63 is expected, found a larger one",
        "' L 80496 4'|line 2: a comma behind the address is expected, found 0x20",
        "=20666|line 2: a remark of the tracer, '=' twice, is expected, found '2'",
        "--1 2|line 2: a remark of the tracer, '-' twice again, is expected, found 0x20",
        "--1|line 2: a remark of the tracer, '-' twice again, is expected, found the end of the file",
        "--a0 2|line 2: a decimal digit is expected, found 'a'",
        "--1- 2|line 2: a remark of the tracer, '-' twice again, is expected, found 0x20",
        "-1 2|line 2: a remark of the tracer, '-' twice, is expected, found '1'",
        "+1 2|line 2: an address, a fetch, an access or a remark is expected, found '+'",
        "1 -2|line 2: a hex digit is expected, found '-'",
        "0x-1 2|line 2: a hex digit is expected, found '-'",
        "I  -1,2|line 2: a hex digit is expected, found '-'",
        "I  1,-2|line 2: a decimal digit is expected, found '-'",
        "'\u0001\u0002'|line 2: an address, a fetch, an access or a remark is expected, found 0x01",
        "hello|line 2: an address, a fetch, an access or a remark is expected, found 'h'",
      })
  void read_wrongLine_namesPlaceExpectedAndFound(String line, String message) {
    assertThat(assertThrows(IOException.class, () -> read(ascii("10 1\n" + line))))
        .hasMessageThat()
        .isEqualTo("gate, " + message);
  }

  @Test
  void read_folder_saysSo() {
    assertThat(
            assertThrows(IOException.class, () -> TraceReader.read(folder, (address, size) -> {})))
        .hasMessageThat()
        .isEqualTo(folder + ": a file is expected, found a directory");
  }
}

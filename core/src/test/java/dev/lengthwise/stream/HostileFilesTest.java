package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.io.OutputStream;
import java.io.RandomAccessFile;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Broken and hostile files end in a clear error, fast and in little memory. */
@Slow
@SuppressWarnings("ByteBufferBackingArray") // each wraps the whole of an array
class HostileFilesTest {

  private static final long GIGABYTE = 1L << 30;

  @TempDir Path folder;

  /** A 64-bit little-endian file; section headers from 0x40 on, that of the code at 0x80. */
  private static byte[] elf() {
    ElfBytes elf = new ElfBytes(true, false);
    elf.code(".text", 0x1000, new byte[64]);
    elf.code(".fini", 0x1040, new byte[4]);
    elf.function("open_gate", 1, 0x1000, 2);
    return elf.bytes();
  }

  /** Returns a view through which fields are made wrong. */
  private static ByteBuffer fields(byte[] bytes) {
    return ByteBuffer.wrap(bytes).order(ByteOrder.LITTLE_ENDIAN);
  }

  private Path file(byte[] bytes) throws IOException {
    return Files.write(folder.resolve("hostile"), bytes);
  }

  private static void assertRefused(Path file, String message) {
    IOException e = assertThrows(IOException.class, () -> CodeImage.read(file));
    assertThat(e).hasMessageThat().isEqualTo(file + message);
  }

  /**
   * Offsets are of the ELF header, the section header of .text at 0x80, and the table's at 0x100.
   */
  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "0x98|8|0x7fffffff|, offset 0x7fffffff: section 1 must lie inside the file of 516 bytes, found"
            + " 64 bytes there",
        "0x98|8|-1|, offset 0xffffffffffffffff: section 1 must lie inside the file of 516 bytes,"
            + " found 64 bytes there",
        "0xa0|8|0x7fffffffffffffff|, offset 0x180: section 1 must lie inside the file of 516 bytes,"
            + " found 9223372036854775807 bytes there",
        "0xa0|8|-1|, offset 0x180: section 1 must lie inside the file of 516 bytes, found"
            + " 18446744073709551615 bytes there",
        "0x90|8|0x1001|: code image: sections must not overlap, found .text, 64 bytes at 0x1001 and"
            + " .fini, 4 bytes at 0x1040",
        "0x90|8|-1|: section .text: code must end below 2^64, found 64 bytes at 0xffffffffffffffff",
        "0x28|8|0|, offset 0x28: section headers are expected, found none (the file is stripped of"
            + " them)",
        "0x28|8|0x7fffffff|, offset 0x7fffffff: 5 section headers must lie inside the file of 516"
            + " bytes, found 320 bytes there",
        "0x3a|2|8|, offset 0x3a: section headers of at least 64 bytes are expected, found 8",
        "0x3c|2|0xfffe|, offset 0x40: 65534 section headers must lie inside the file of 516 bytes,"
            + " found 4194176 bytes there",
        "0x3c|2|0|: a file with code is expected, found no executable byte",
        "0x04|1|3|, offset 0x4: an ELF class of 1 or 2 is expected, found 3",
        "0x05|1|0|, offset 0x5: an ELF byte order of 1 or 2 is expected, found 0",
        "0x128|4|9|, offset 0x100: a section of names in [1, 4] is expected for the symbols, found 9",
        "0x120|8|0x7fffffffff|, offset 0x100: the symbols must have at most 67108864 bytes, found"
            + " 549755813887",
        "0x118|8|0x1f0|, offset 0x1f0: the symbols must lie inside the file of 516 bytes, found 24"
            + " bytes there",
      })
  void read_wrongField_namesIt(String offset, int width, String value, String message)
      throws IOException {
    byte[] whole = elf();
    ByteBuffer bytes = fields(whole);
    int at = Integer.decode(offset);
    long wrong = Long.decode(value);
    switch (width) {
      case 1 -> bytes.put(at, (byte) wrong);
      case 2 -> bytes.putShort(at, (short) wrong);
      case 4 -> bytes.putInt(at, (int) wrong);
      default -> bytes.putLong(at, wrong);
    }
    assertRefused(file(whole), message);
  }

  @Test
  void read_sectionsOfZeroBytes_areLeftOut() throws IOException {
    byte[] whole = elf();
    ByteBuffer bytes = fields(whole);
    bytes.putLong(0xa0, 0);
    CodeImage image = CodeImage.read(file(whole));
    assertThat(image.sections().stream().map(CodeImage.Section::name)).containsExactly(".fini");
    bytes.putLong(0xe0, 0);
    assertRefused(file(whole), ": a file with code is expected, found no executable byte");
  }

  @Test
  void read_manySectionsOfTheSameBytes_endsAtTheLimit() throws IOException {
    Path file = sparse(elf());
    try (RandomAccessFile raw = new RandomAccessFile(file.toFile(), "rw")) {
      raw.seek(0x3c);
      raw.write(new byte[] {(byte) 0xff, 0x7f}); // 32,767 headers
      byte[] header = new byte[64];
      raw.seek(0x80);
      raw.readFully(header);
      ByteBuffer.wrap(header).order(ByteOrder.LITTLE_ENDIAN).putLong(32, 1 << 24);
      for (int i = 1; i < 200; i++) {
        raw.seek(0x40 + 64L * i);
        raw.write(header);
      }
    }
    assertRefused(
        file,
        String.format(
            Locale.ROOT,
            ", offset 0x%x: at most 268435456 bytes of code are expected, found 285212672 up to"
                + " section 17",
            0x40 + 17 * 64));
  }

  @Test
  void read_sparseGigabyte_readsItsCodeOrRefuses() throws IOException {
    assertThat(CodeImage.read(sparse(elf())).sections()).hasSize(2);
    byte[] whole = elf();
    ByteBuffer bytes = fields(whole);
    bytes.putLong(0x98, 0).putLong(0xa0, GIGABYTE);
    assertRefused(
        sparse(whole),
        ", offset 0x80: at most 268435456 bytes of code are expected, found 1073741824 up to"
            + " section 1");
    assertRefused(
        sparse(new byte[] {1}), ": at most 268435456 bytes of code are expected, found 1073741824");
  }

  @Test
  void read_traceOfZeros_isRefusedAtOnce() throws IOException {
    Path file = sparse(new byte[0]);
    assertThat(assertThrows(IOException.class, () -> TraceCounts.ofTrace(file)))
        .hasMessageThat()
        .isEqualTo(
            file + ", line 1: an address, a fetch, an access or a remark is expected, found 0x00");
  }

  @Test
  void read_gzipThatUnpacksToGigabytes_isRefused() throws IOException {
    Path file = folder.resolve("bomb.gz");
    try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(file), 1 << 16)) {
      byte[] zeros = new byte[1 << 20];
      for (int i = 0; i < 257; i++) {
        out.write(zeros);
      }
    }
    assertRefused(file, ": at most 268435456 bytes are expected in a gzip image, found more");
  }

  @Test
  void read_endlessLineOfOneDigit_needsNoMemory() throws IOException {
    Path file = folder.resolve("long.gz");
    try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(file), 1 << 16)) {
      byte[] zeros = "0".repeat(1 << 20).getBytes(StandardCharsets.US_ASCII);
      for (int i = 0; i < 100; i++) {
        out.write(zeros);
      }
    }
    assertThat(assertThrows(IOException.class, () -> TraceCounts.ofTrace(file)))
        .hasMessageThat()
        .isEqualTo(
            file + ", line 1: a blank behind the address is expected, found the end of the file");
  }

  @Slow
  @Test
  void read_tooManyDistinctInstructions_endsAtTheLimit() {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (int i = 0; i < TraceCounts.MOST_DISTINCT; i++) {
      counter.instruction(4L * i, 1);
    }
    counter.instruction(28, 1);
    assertThat(
            assertThrows(
                IllegalStateException.class,
                () -> counter.instruction(4L * TraceCounts.MOST_DISTINCT, 1)))
        .hasMessageThat()
        .isEqualTo(
            "trace: at most 8388608 distinct instructions are counted, found a further one at"
                + " 0x2000000");
    assertWithMessage("instructions")
        .that(counter.counts().instructions())
        .isEqualTo((1L << 23) + 1);
  }

  @Test
  void read_folder_isRefused() {
    assertRefused(folder, ": a regular file is expected, found another kind");
  }

  private Path sparse(byte[] head) throws IOException {
    Path file = folder.resolve("sparse");
    Files.write(file, head);
    try (RandomAccessFile raw = new RandomAccessFile(file.toFile(), "rw")) {
      raw.setLength(GIGABYTE);
    }
    return file;
  }
}

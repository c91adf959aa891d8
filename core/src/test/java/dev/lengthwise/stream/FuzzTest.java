package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.report.StudyPage;
import dev.lengthwise.study.sweep.StudyFile;
import dev.lengthwise.study.sweep.StudyRow;
import dev.lengthwise.testing.Timed;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Reads files with random faults: each is read whole or refused with its name and the place, fast.
 *
 * <p>The property {@code fuzz.seconds} makes it go on for longer; 3 seconds if it is not given.
 */
@Timed
class FuzzTest {

  private static final int SECONDS = Integer.getInteger("fuzz.seconds", 3);

  /** Far above what any case takes, so that a busy machine does not fail the test. */
  private static final long MOST_NANOS = 5_000_000_000L;

  private static final long[] ODD = {
    0,
    1,
    2,
    0x7f,
    0x80,
    0xff,
    0x7fff,
    0x8000,
    0xffff,
    0x7fffffffL,
    0x80000000L,
    0xffffffffL,
    -1,
    Long.MAX_VALUE,
    Long.MIN_VALUE
  };

  @TempDir Path folder;

  /** Reads a file by one of the readers. */
  @FunctionalInterface
  private interface Reader {
    void read(Path file) throws IOException;
  }

  @SuppressWarnings("ArrayRecordComponent") // never compared
  private record Case(String kind, byte[] bytes, Reader reader) {}

  private static List<Case> cases() throws IOException {
    List<Case> cases = new ArrayList<>();
    for (int kind = 0; kind < 4; kind++) {
      ElfBytes elf = new ElfBytes((kind & 1) == 1, (kind & 2) == 2);
      elf.code(".text", 0x1000, new byte[300]);
      elf.code(".fini", 0x2000, new byte[7]);
      elf.function("open_gate", 1, 0x1000, 20);
      elf.function("close_gate", 2, 0x2000, 7);
      cases.add(new Case("elf", elf.bytes(), CodeImage::read));
    }
    byte[] launcher = Files.readAllBytes(Path.of(System.getProperty("java.home"), "bin", "java"));
    cases.add(new Case("elf", launcher, CodeImage::read));
    StringBuilder text = new StringBuilder("# trace\n");
    StringBuilder fetches = new StringBuilder("==1== remark\n");
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (int i = 0; i < 300; i++) {
      text.append(Integer.toHexString(0x8049000 + i)).append(' ').append(1 + i % 15).append('\n');
      fetches.append("I  0804").append(1000 + i).append(",2\n L fef198e0,4\n");
      counter.instruction(0x8049000 + i, 1 + i % 63);
    }
    cases.add(new Case("trace", ascii(text), TraceCounts::ofTrace));
    cases.add(new Case("trace", ascii(fetches), TraceCounts::ofTrace));
    Path counts = Files.createTempFile("counts", ".csv");
    counter.counts().save(counts);
    cases.add(new Case("counts", Files.readAllBytes(counts), TraceCounts::load));
    Files.delete(counts);
    for (Case plain : List.copyOf(cases)) {
      ByteArrayOutputStream packed = new ByteArrayOutputStream();
      try (var out = new GZIPOutputStream(packed)) {
        out.write(plain.bytes());
      }
      cases.add(new Case(plain.kind(), packed.toByteArray(), plain.reader()));
    }
    List<StudyRow> rows = new ArrayList<>();
    for (int i = 0; i < 12; i++) {
      rows.add(
          new StudyRow(
              i == 3 ? "=lane,\"" + i : "lane" + i,
              "banked",
              6,
              20 + i,
              15 + i,
              3,
              0.5 + 0.04 * i,
              0.5 + 0.03 * i,
              i % 5 == 4 ? OptionalDouble.empty() : OptionalDouble.of(0.1 * i),
              i % 2 == 0 ? "tide" : "sea",
              "decoder=2 device=six:0123456789abcdef"));
    }
    Case study =
        new Case(
            "study", StudyFile.text(rows).getBytes(StandardCharsets.UTF_8), FuzzTest::readStudy);
    for (int i = 0; i < 6; i++) { // as often as the others together, nearly
      cases.add(study);
    }
    return cases;
  }

  /** What can be read can be shown, and written so that it is read again. */
  private static void readStudy(Path file) throws IOException {
    List<StudyRow> rows = StudyFile.read(file);
    assertThat(new StudyPage("fuzz", rows, List.of(), List.of()).file().text())
        .doesNotContain("NaN");
    StudyFile.write(file, rows);
    assertThat(StudyFile.read(file)).isEqualTo(rows);
  }

  private static byte[] ascii(StringBuilder text) {
    return text.toString().getBytes(StandardCharsets.US_ASCII);
  }

  @Test
  void read_randomFaults_isWholeOrNamesThePlace() throws IOException {
    List<Case> cases = cases();
    SplittableRandom random = new SplittableRandom(20);
    Path file = folder.resolve("fuzz");
    long end = System.nanoTime() + SECONDS * 1_000_000_000L;
    int refused = 0;
    int read = 0;
    Map<String, Integer> kinds = new TreeMap<>();
    while (System.nanoTime() < end || refused < 100) {
      Case chosen = cases.get(random.nextInt(cases.size()));
      byte[] bytes = broken(chosen.bytes(), random);
      Files.write(file, bytes);
      long start = System.nanoTime();
      try {
        chosen.reader().read(file);
        read++;
        kinds.merge(chosen.kind() + " read", 1, Integer::sum);
      } catch (IOException e) {
        refused++;
        kinds.merge(chosen.kind() + " refused", 1, Integer::sum);
        assertThat(e).hasMessageThat().startsWith(file.toString());
        assertThat(e).hasMessageThat().contains(", found ");
      } catch (RuntimeException | Error e) {
        throw new AssertionError("bytes " + HexFormat.of().formatHex(bytes), e);
      }
      if (System.nanoTime() - start > MOST_NANOS) {
        throw new AssertionError("too slow: bytes " + HexFormat.of().formatHex(bytes));
      }
    }
    System.out.println("fuzz: " + read + " files read, " + refused + " refused; " + kinds);
    assertThat(read).isGreaterThan(0);
  }

  private static byte[] broken(byte[] whole, SplittableRandom random) {
    byte[] bytes = whole.clone();
    int faults = 1 + random.nextInt(4);
    for (int i = 0; i < faults && bytes.length > 16; i++) {
      // Headers are at the start and at the end, so faults there are more frequent.
      int range = random.nextInt(3) == 0 ? bytes.length : Math.min(bytes.length, 700);
      int at =
          random.nextInt(4) == 0 ? bytes.length - 1 - random.nextInt(range) : random.nextInt(range);
      switch (random.nextInt(5)) {
        case 0 -> bytes[at] ^= (byte) (1 << random.nextInt(8));
        case 1 -> bytes[at] = (byte) random.nextInt();
        case 2 -> bytes = Arrays.copyOf(bytes, at);
        case 3 -> {
          long odd = ODD[random.nextInt(ODD.length)] + random.nextInt(3) - 1;
          int width = 1 << random.nextInt(4);
          boolean big = random.nextBoolean();
          for (int j = 0; j < width && at + j < bytes.length; j++) {
            bytes[at + j] = (byte) (odd >>> 8 * (big ? width - 1 - j : j));
          }
        }
        default -> {
          byte[] more = Arrays.copyOf(bytes, bytes.length + 1 + random.nextInt(8));
          System.arraycopy(bytes, at, more, at + more.length - bytes.length, bytes.length - at);
          bytes = more;
        }
      }
    }
    return bytes;
  }
}

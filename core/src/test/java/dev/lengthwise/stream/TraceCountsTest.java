package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

@Slow
class TraceCountsTest {

  @TempDir Path folder;

  private static TraceCounts random(long seed, int instructions, Map<String, Long> expected) {
    SplittableRandom random = new SplittableRandom(seed);
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (int i = 0; i < instructions; i++) {
      long address = random.nextInt(3) == 0 ? -random.nextInt(300) : random.nextInt(30_000);
      int length = 1 + random.nextInt(random.nextInt(63) + 1);
      counter.instruction(address, length);
      expected.merge("%016x,%02d".formatted(address, length), 1L, Long::sum);
    }
    return counter.counts();
  }

  private static Map<String, Long> entries(TraceCounts counts) {
    Map<String, Long> found = new TreeMap<>();
    String last = "";
    for (int i = 0; i < counts.distinct(); i++) {
      String key = "%016x,%02d".formatted(counts.address(i), counts.length(i));
      assertThat(key).isGreaterThan(last);
      assertThat(counts.indexOf(counts.address(i), counts.length(i))).isEqualTo(i);
      found.put(key, counts.count(i));
      last = key;
    }
    return found;
  }

  @Test
  void counts_randomTrace_areThoseOfAMap() {
    Map<String, Long> expected = new TreeMap<>();
    TraceCounts counts = random(1, 40_000, expected);
    assertThat(entries(counts)).isEqualTo(expected);
    assertThat(counts.instructions()).isEqualTo(40_000L);
    assertThat(counts.indexOf(40_000, 1)).isEqualTo(-1);
  }

  @Test
  void merge_twoTraces_isTheirSum() {
    Map<String, Long> expected = new TreeMap<>();
    TraceCounts one = random(1, 9_000, expected);
    TraceCounts two = random(2, 15_000, expected);
    assertThat(entries(one.merge(two))).isEqualTo(expected);
    assertThat(one.merge(two)).isEqualTo(two.merge(one));
    assertThat(one.merge(TraceCounts.NONE)).isEqualTo(one);
    assertThat(one.merge(two).hashCode()).isEqualTo(two.merge(one).hashCode());
  }

  @ParameterizedTest
  @CsvSource({"counts.csv", "counts.csv.gz"})
  void load_saved_isEqual(String name) throws IOException {
    TraceCounts counts = random(3, 20_000, new TreeMap<>());
    Path file = folder.resolve(name);
    counts.save(file);
    byte[] first = Files.readAllBytes(file);
    assertThat(TraceCounts.load(file)).isEqualTo(counts);
    counts.save(file);
    assertThat(Files.readAllBytes(file)).isEqualTo(first);
    try (var files = Files.list(folder)) {
      assertThat(files.toList()).containsExactly(file);
    }
  }

  @Test
  void save_few_isReadable() throws IOException {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    counter.instruction(0x8049640, 2);
    counter.instruction(0x8049640, 2);
    counter.instruction(-1, 1);
    Path file = folder.resolve("few.csv");
    counter.counts().save(file);
    assertThat(Files.readString(file))
        .isEqualTo("address,length,count\n8049640,2,2\nffffffffffffffff,1,1\ntotal,2,3\n");
    assertThat(counter.counts().toString()).isEqualTo("3 instructions, 2 distinct");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "10,1|line 2: ',' is expected, found the end of the file",
        "10,1,1|line 3: an address or the line of totals is expected, found the end of the file",
        "10,1,0|line 2: a count of at least 1 is expected, found 0",
        "10,64,1|line 2: a length must be in [1, 63] bytes, found 64",
        "10,1,1;10,1,1|line 3: instructions must ascend by address and length, found 10,1",
        "10,1,1;0f,1,1|line 3: instructions must ascend by address and length, found f,1",
        "10,1,9223372036854775807;11,1,1|line 3: counts must sum to less than 2^63, found more",
        "10,1,7;total,1,6|line 3: totals of the lines before, 1 and 7, are expected, found 1 and 6",
        "10,1,7;total,1,7;x|line 4: the end of the file behind the totals is expected, found 'x'",
      })
  void load_wrongFile_namesPlaceExpectedAndFound(String lines, String message) throws IOException {
    Path file = folder.resolve("bad.csv");
    Files.writeString(file, "address,length,count\n" + lines.replace(';', '\n'));
    assertThat(assertThrows(IOException.class, () -> TraceCounts.load(file)))
        .hasMessageThat()
        .isEqualTo(file + ", " + message);
  }

  @Test
  void load_otherHeads_saysSo() throws IOException {
    Path file = Files.writeString(folder.resolve("bad.csv"), "address;length\n");
    assertThat(assertThrows(IOException.class, () -> TraceCounts.load(file)))
        .hasMessageThat()
        .isEqualTo(file + ", line 1: ',' of address,length,count is expected, found ';'");
  }

  @Test
  void instruction_wrongLength_saysSo() {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    for (int length : new int[] {0, 64, 256}) {
      assertThat(
              assertThrows(IllegalArgumentException.class, () -> counter.instruction(0x10, length)))
          .hasMessageThat()
          .isEqualTo("trace: a length must be in [1, 63] bytes, found " + length);
    }
    assertThat(counter.counts()).isEqualTo(TraceCounts.NONE);
  }
}

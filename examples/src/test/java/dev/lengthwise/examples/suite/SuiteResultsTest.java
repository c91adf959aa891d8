package dev.lengthwise.examples.suite;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.examples.suite.SuiteResults.Entry;
import dev.lengthwise.examples.suite.SuiteResults.Size;
import dev.lengthwise.examples.suite.SuiteResults.Subject;
import dev.lengthwise.logic.Effort;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What is kept of each version of our mapper. */
class SuiteResultsTest {

  private static final SuiteResults STORED = SuiteResults.stored();

  @TempDir Path folder;

  @Test
  void latest_hasEveryFunctionOnce() {
    Set<Subject> expected = new HashSet<>();
    for (SuiteFunction function : Suite.functions()) {
      for (int lutInputs : new int[] {6, 4}) {
        for (boolean bounded : new boolean[] {false, true}) {
          expected.add(new Subject(function.name(), lutInputs, Effort.QUICK, bounded));
        }
      }
    }
    List<Subject> latest =
        STORED.entries().stream()
            .filter(entry -> entry.version() == STORED.latest())
            .map(Entry::subject)
            .filter(subject -> subject.effort() == Effort.QUICK)
            .toList();
    assertThat(latest).containsExactlyElementsIn(expected);
  }

  @Test
  void entries_areNoWorseThanThoseOfTheVersionBefore() {
    Set<String> worse = new TreeSet<>();
    for (Entry entry : STORED.entries()) {
      Optional<Entry> before = STORED.find(entry.version() - 1, entry.subject());
      if (before.isPresent() && isWorse(entry, before.get())) {
        worse.add(before.get() + " became " + entry);
      }
    }
    assertThat(worse).isEmpty();
  }

  /** More LUTs are worse, unless the bound on levels was not met before and is now. */
  private static boolean isWorse(Entry entry, Entry before) {
    if (!entry.subject().bounded()) {
      return entry.ours().luts() > before.ours().luts();
    }
    int bound = Math.max(1, entry.tool().levels());
    int excess = Math.max(0, entry.ours().levels() - bound);
    int excessBefore = Math.max(0, before.ours().levels() - bound);
    return excess > excessBefore
        || excess == excessBefore && entry.ours().luts() > before.ours().luts();
  }

  /** What is proved the least is so for everybody. */
  @Test
  void entries_areNotBelowWhatIsProvedTheLeast() {
    int proved = 0;
    for (SuiteFunction function : Suite.functions()) {
      for (Entry entry : STORED.entries()) {
        SuiteFunction.KnownLuts known = function.known().get(entry.subject().lutInputs());
        if (entry.subject().function().equals(function.name())
            && known != null
            && known.source().endsWith("so the least")) {
          proved++;
          assertThat(entry.ours().luts()).isAtLeast(known.luts());
          assertThat(entry.tool().luts()).isAtLeast(known.luts());
        }
      }
    }
    assertThat(proved).isAtLeast(20);
  }

  @Test
  void file_isWhatIsStored() throws IOException {
    try (var in = SuiteResults.class.getResourceAsStream("suite.csv")) {
      assertThat(STORED.file().text())
          .isEqualTo(new String(in.readAllBytes(), StandardCharsets.US_ASCII));
    }
  }

  @Test
  void with_replacesTheSameAndKeepsVersionsInOrder() throws IOException {
    Subject subject = new Subject("rd84", 6, Effort.QUICK, false);
    Entry first = new Entry(1, subject, new Size(9, 3), new Size(10, 3));
    Entry second = new Entry(2, subject, new Size(8, 3), new Size(10, 3));
    Entry mended = new Entry(1, subject, new Size(7, 3), new Size(10, 2));
    SuiteResults results = new SuiteResults(List.of()).with(second).with(first);
    assertThat(results.entries()).containsExactly(first, second).inOrder();
    results = results.with(mended);
    assertThat(results.entries()).containsExactly(mended, second).inOrder();
    assertThat(results.latest()).isEqualTo(2);
    assertThat(results.tool("rd84", 6)).hasValue(new Size(10, 3));
    assertThat(results.tool("rd84", 4)).isEmpty();
    assertThat(results.find(1, subject)).hasValue(mended);
    results.write(folder);
    assertThat(SuiteResults.in(folder)).isEqualTo(results);
  }

  @Test
  void in_folderWithoutAFile_isWhatIsStored() throws IOException {
    assertThat(SuiteResults.in(folder)).isEqualTo(STORED);
  }

  @Test
  void in_faultyFile_saysTheLine() throws IOException {
    Path file = folder.resolve("suite.csv");
    new SuiteResults(List.of()).write(folder);
    Files.writeString(file, Files.readString(file) + "1,rd84,6,quick,,x,3,10,3,,\n");
    IllegalArgumentException failure =
        assertThrows(IllegalArgumentException.class, () -> SuiteResults.in(folder));
    assertThat(failure)
        .hasMessageThat()
        .isEqualTo("suite.csv: line 2 must be a result, found 1,rd84,6,quick,,x,3,10,3,,");
    Files.writeString(file, "version\n");
    failure = assertThrows(IllegalArgumentException.class, () -> SuiteResults.in(folder));
    assertThat(failure)
        .hasMessageThat()
        .isEqualTo(
            "suite.csv: line 1 must be version,function,lut_inputs,effort,levels_bound,ours_luts,"
                + "ours_levels,tool_luts,tool_levels,best_known,best_known_source, found version");
  }
}

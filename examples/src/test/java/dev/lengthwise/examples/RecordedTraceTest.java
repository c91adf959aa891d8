package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/** The recorded traces fit their images, the truth, and the room that they may take. */
class RecordedTraceTest {

  private static final GoldenModel TRUTH = GoldenModel.of(Ia32.instructionSet());

  @ParameterizedTest
  @EnumSource(RecordedTrace.class)
  void stream_everyInstruction_hasTheLengthThatWasRecorded(RecordedTrace trace) {
    CodeStream stream = trace.stream();
    AccuracyProfile profile = AccuracyProfile.of(stream, TRUTH, Ia32.MODES_32);
    assertThat(profile.outside()).isEqualTo(0);
    assertThat(profile.disagreeing()).isEqualTo(0);
    assertThat(profile.executed()).isEqualTo(stream.counts().instructions());
    assertThat(profile.executed()).isGreaterThan(3_000_000L);
    assertThat(stream.counts().distinct()).isGreaterThan(900);
    assertThat(stream.image().symbols().stream().map(s -> s.name()))
        .containsAtLeast("tide_table", "gate_control", "log_sort", "command_parser");
    assertThat(profile.accuracy(Predecoder.builder(TRUTH.instructionSet()).build()).exactShare())
        .isEqualTo(1.0);
  }

  @ParameterizedTest
  @EnumSource(RecordedTrace.class)
  void replay_stretches_arePartOfTheCounts(RecordedTrace trace) {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    long replayed = trace.replay(counter);
    assertThat(replayed).isAtLeast(240_000L);
    TraceCounts all = trace.stream().counts();
    TraceCounts part = counter.counts();
    for (int i = 0; i < part.distinct(); i++) {
      int same = all.indexOf(part.address(i), part.length(i));
      assertWithMessage("%s", Long.toHexString(part.address(i))).that(same).isAtLeast(0);
      assertThat(part.count(i)).isAtMost(all.count(same));
    }
  }

  @Test
  void files_inTheRepository_takeLessThanTwoMegabytes() throws IOException {
    Path folder = Path.of("src/main/resources/dev/lengthwise/examples/trace");
    long bytes = 0;
    try (Stream<Path> files = Files.list(folder)) {
      for (Path file : files.toList()) {
        bytes += Files.size(file);
      }
    }
    assertThat(bytes).isGreaterThan(10_000L);
    assertThat(bytes).isLessThan(2_000_000L);
  }
}

package dev.lengthwise.work;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cancel.CancelledException;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.map.LutMapper;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.TraceReader;
import dev.lengthwise.study.accuracy.AccuracyCheck;
import dev.lengthwise.study.advice.Advisor;
import dev.lengthwise.study.sweep.Sweep;
import dev.lengthwise.study.sweep.VariantSpace;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.testing.Interruption;
import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Random;
import java.util.concurrent.Callable;
import java.util.concurrent.CountDownLatch;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Whatever takes long ends soon when its thread is interrupted. Prints how soon. */
@Slow
class CancelTest {

  private static final InstructionSet SET = Ia32.instructionSet();
  private static final DeviceProfile SIX = DeviceProfile.sixInputDualOutput();
  private static final int SOON = 200;

  /** When searches are past their beginnings. */
  private static final int LATER = 1_000;

  @TempDir Path folder;

  /** Work that ends, over and over, so that any of its steps may meet the interrupt. */
  private static Callable<?> forever(Runnable work) {
    return () -> {
      while (true) {
        work.run();
      }
    };
  }

  private static byte[] bytes(int count) {
    byte[] bytes = new byte[count];
    new Random(1).nextBytes(bytes);
    return bytes;
  }

  private StudyStream stream(int bytes) {
    try {
      CodeImage image = CodeImage.readRaw(Files.write(folder.resolve("raw"), bytes(bytes)), 0x1000);
      return StudyStream.ofImage("random", SET, Ia32.MODES_32, image);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  @Test
  void realizer_everyStyle_ends() throws Exception {
    Predecoder lane = Predecoder.builder(SET).build();
    Realizer realizer = Realizer.on(SIX);
    for (int millis : new int[] {SOON, LATER}) {
      Interruption.assertEnds(
          "lut network", millis, () -> realizer.realize(lane, Style.LUT_NETWORK));
    }
    Interruption.assertEnds(
        "lut network of four inputs, thorough",
        LATER,
        () ->
            Realizer.on(DeviceProfile.fourInput())
                .withEffort(Effort.THOROUGH)
                .withMostLevels(2)
                .realize(lane, Style.LUT_NETWORK));
    Interruption.assertEnds(
        "banked, and its cost", SOON, forever(() -> realizer.realize(lane, Style.BANKED).total()));
    LaneArray row = LaneArray.builder(lane, 16).build();
    Interruption.assertEnds(
        "a row, and its cost", LATER, forever(() -> realizer.realize(row, Style.ROM).total()));
  }

  @Test
  void lutMapper_ends() throws Exception {
    Random random = new Random(1);
    TruthTable table = TruthTable.of(10, p -> random.nextBoolean());
    LutMapper mapper = LutMapper.forInputs(6).withEffort(Effort.THOROUGH);
    Interruption.assertEnds("lut mapper", SOON, () -> mapper.map(TruthTables.of(List.of(table))));
    Interruption.assertEnds(
        "lut mapper, levels first",
        LATER,
        () -> mapper.withObjective(Objective.DEPTH).map(TruthTables.of(List.of(table))));
  }

  @Test
  void sweep_ends() throws Exception {
    StudyStream stream = stream(1 << 14);
    Sweep sweep =
        Sweep.of(
            VariantSpace.builder(SET)
                .rows("all", List.of())
                .prefixes(PrefixTreatment.NOT_HANDLED, PrefixTreatment.ONE_UNIT_EACH)
                .styles(Style.LUT_NETWORK, Style.BANKED)
                .build()
                .variants(),
            List.of(stream));
    Path file = folder.resolve("study.csv");
    Interruption.assertEnds("sweep", LATER, () -> sweep.withThreads(3).run(file));
  }

  @Test
  void advisor_ends() throws Exception {
    StudyStream stream = stream(1 << 16);
    Advisor advisor = Advisor.on(stream, Realizer.on(SIX), Style.BANKED);
    for (int millis : new int[] {SOON, LATER}) {
      Interruption.assertEnds("advisor", millis, forever(() -> advisor.within("lane", 60)));
    }
  }

  @Test
  void studies_end() throws Exception {
    Predecoder lane =
        Predecoder.builder(SET).lookahead(6).prefixes(PrefixTreatment.folded(4)).build();
    Interruption.assertEnds("accuracy check", SOON, forever(() -> AccuracyCheck.of(lane)));
    CodeImage image =
        CodeImage.readRaw(Files.write(folder.resolve("large"), bytes(1 << 24)), 0x1000);
    Interruption.assertEnds(
        "stream of an image",
        SOON,
        forever(() -> StudyStream.ofImage("large", SET, Ia32.MODES_32, image).accuracy(lane)));
  }

  @Test
  void traceReader_ends() throws Exception {
    byte[] line = "1000 1\n".getBytes(java.nio.charset.StandardCharsets.US_ASCII);
    InputStream endless =
        new InputStream() {
          private int at;

          @Override
          public int read() {
            at = (at + 1) % line.length;
            return line[at];
          }

          @Override
          public int read(byte[] into, int offset, int length) {
            for (int i = 0; i < length; i++) {
              into[offset + i] = (byte) read();
            }
            return length;
          }
        };
    Interruption.assertEnds(
        "trace", SOON, () -> TraceReader.read(endless, "endless", (address, length) -> {}));
    Path pipe = folder.resolve("pipe");
    new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor();
    Process writer =
        new ProcessBuilder("sh", "-c", "exec sleep 60 > " + pipe).start(); // opened, silent
    try {
      Interruption.assertEnds(
          "trace from a silent pipe", SOON, () -> TraceReader.read(pipe, (address, length) -> {}));
    } finally {
      writer.destroyForcibly();
    }
  }

  @Test
  void parallel_failureOfAnyThread_isTheOneThrown() {
    for (int fault = 0; fault < 64; fault++) {
      int wrong = fault;
      IllegalStateException e =
          assertThrows(
              IllegalStateException.class,
              () ->
                  Work.parallel(
                      () ->
                          IntStream.range(0, 64)
                              .parallel()
                              .map(
                                  i -> {
                                    if (i == wrong) {
                                      throw new IllegalStateException("number: found " + i);
                                    }
                                    return i;
                                  })
                              .sum()));
      assertThat(e).hasMessageThat().isEqualTo("number: found " + fault);
    }
  }

  @Test
  void parallel_withinWorkers_usesTheirThreads() {
    try (Workers workers = Workers.of(1)) {
      List<String> names =
          Workers.result(
              workers.start(
                  () ->
                      Work.parallel(
                          () ->
                              IntStream.range(0, 1000)
                                  .parallel()
                                  .mapToObj(i -> Thread.currentThread().getName())
                                  .distinct()
                                  .toList())));
      assertThat(names).containsExactly("lengthwise-worker-0");
    }
  }

  @Test
  void close_taskOfManyShortSteps_waitsForItsEnd() throws Exception {
    CountDownLatch begun = new CountDownLatch(2);
    Workers workers = Workers.of(2);
    List<Thread> threads = new java.util.concurrent.CopyOnWriteArrayList<>();
    for (int i = 0; i < 2; i++) {
      workers.execute(
          () -> {
            threads.add(Thread.currentThread());
            begun.countDown();
            while (true) {
              Work.check();
            }
          });
    }
    begun.await();
    workers.close();
    for (Thread thread : threads) {
      thread.join(1_000); // it may be on its way out
      assertThat(thread.isAlive()).isFalse();
    }
  }

  @Test
  void check_notInterrupted_returns() {
    Work.check();
    Thread.currentThread().interrupt();
    try {
      assertThrows(CancelledException.class, Work::check);
    } finally {
      assertThat(Thread.interrupted()).isTrue();
    }
  }
}

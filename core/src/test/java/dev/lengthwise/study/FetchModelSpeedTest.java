package dev.lengthwise.study;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.study.fetch.FetchModel;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.fetch.Throughput;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.testing.Slow;
import java.util.Locale;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Prints how many instructions the model takes in a second. */
@Slow
class FetchModelSpeedTest {

  private static final int INSTRUCTIONS = 40_000_000;

  /** Far below what an idle machine does, so that a busy one does not fail. */
  private static final double LEAST_MILLIONS = 4;

  @Test
  void model_takesMillionsOfInstructionsInASecond() {
    CacheGeometry geometry =
        CacheGeometry.builder(8192).ways(2).lineBytes(32).windowBytes(16).build();
    FrontEnd frontEnd =
        FrontEnd.builder(16)
            .decoder(2)
            .cache(InstructionCache.named("icache", geometry).build(), 10)
            .build();
    Random random = new Random(1);
    int[] bytes = random.ints(1 << 12, 1, 7).toArray();
    int[] jumps = random.ints(1 << 12, 0, 1 << 14).toArray();
    FetchModel model = FetchModel.of(frontEnd, CodeUnit.BYTE);
    long start = System.nanoTime();
    long address = 0;
    for (int i = 0; i < INSTRUCTIONS; i++) {
      int length = bytes[i & 0xfff];
      model.instruction(address, length, 0, (i & 0x3f) != 0x15);
      address = i % 7 == 0 ? jumps[i >> 4 & 0xfff] : address + length;
    }
    Throughput found = model.finish();
    double millions = INSTRUCTIONS / 1e6 / ((System.nanoTime() - start) / 1e9);
    String text =
        String.format(
            Locale.ROOT, "fetch model: %.1f million instructions a second, %s", millions, found);
    System.out.println(text);
    assertWithMessage(text).that(millions).isAtLeast(LEAST_MILLIONS);
  }
}

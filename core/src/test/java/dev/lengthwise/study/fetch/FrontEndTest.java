package dev.lengthwise.study.fetch;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.table.DescriptionException;
import java.util.Optional;
import org.junit.jupiter.api.Test;

/** Checks the bounds of a front end's numbers. */
class FrontEndTest {

  private static final InstructionCache CACHE =
      InstructionCache.named(
              "icache", CacheGeometry.builder(1024).lineBytes(16).windowBytes(8).build())
          .build();

  @Test
  void bounds_areAccepted() {
    FrontEnd least = FrontEnd.builder(1).queue(1).decoder(1).slowPath(0).redirect(0).build();
    assertThat(least.longestInstruction()).isEqualTo(1);
    FrontEnd most =
        FrontEnd.builder(32).queue(4096).decoder(32).slowPath(10_000).redirect(10_000).build();
    assertThat(most.longestInstruction()).isEqualTo(4065);
    assertThat(FrontEnd.builder(8).cache(CACHE, 10_000).build().missCycles()).isEqualTo(10_000);
  }

  @Test
  void defaults_areAsDocumented() {
    FrontEnd found = FrontEnd.builder(8).build();
    assertThat(found.queueBytes()).isEqualTo(32);
    assertThat(found.decoderWidth()).isEqualTo(1);
    assertThat(found.slowCycles()).isEqualTo(4);
    assertThat(found.redirectCycles()).isEqualTo(1);
    assertThat(found.missCycles()).isEqualTo(10);
    assertThat(found.cache()).isEmpty();
  }

  @Test
  void numbers_outOfRange_areRefused() {
    assertBad(
        () -> FrontEnd.builder(0), "front end: the bytes of a window must be in [1, 32], found 0");
    assertBad(
        () -> FrontEnd.builder(12),
        "front end: the bytes of a window must be a power of two, found 12");
    FrontEnd.Builder builder = FrontEnd.builder(8);
    assertBad(
        () -> builder.queue(7), "front end: the bytes of the queue must be in [8, 4096], found 7");
    assertBad(
        () -> builder.queue(4097),
        "front end: the bytes of the queue must be in [8, 4096], found 4097");
    assertBad(
        () -> builder.decoder(0),
        "front end: the items of the decoder must be in [1, 32], found 0");
    assertBad(
        () -> builder.decoder(33),
        "front end: the items of the decoder must be in [1, 32], found 33");
    assertBad(
        () -> builder.slowPath(-1),
        "front end: the cycles of the slow path must be in [0, 10000], found -1");
    assertBad(
        () -> builder.redirect(10_001),
        "front end: the cycles of a redirect must be in [0, 10000], found 10001");
    assertBad(
        () -> builder.cache(CACHE, -1),
        "front end: the cycles of a miss must be in [0, 10000], found -1");
  }

  @Test
  void number_givenTwice_isRefused() {
    IllegalStateException e =
        assertThrows(IllegalStateException.class, () -> FrontEnd.builder(8).decoder(2).decoder(3));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo("front end: the decoder is given once, found 3 after 2");
  }

  @Test
  void cache_ofAnotherWindow_isRefused() {
    DescriptionException e =
        assertThrows(
            DescriptionException.class, () -> FrontEnd.builder(16).cache(CACHE, 5).build());
    assertThat(e)
        .hasMessageThat()
        .isEqualTo("front end: the window must be that of the cache, 8 bytes, found 16");
  }

  @Test
  void record_queueSmallerThanWindow_isRefused() {
    DescriptionException e =
        assertThrows(
            DescriptionException.class, () -> new FrontEnd(16, 8, 1, 0, 0, 0, Optional.empty()));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo("front end: the queue must hold a window of 16 bytes, found 8");
  }

  private static void assertBad(Runnable action, String message) {
    IllegalArgumentException e = assertThrows(IllegalArgumentException.class, action::run);
    assertThat(e).hasMessageThat().isEqualTo(message);
  }
}

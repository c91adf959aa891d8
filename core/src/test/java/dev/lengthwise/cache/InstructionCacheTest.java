package dev.lengthwise.cache;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.table.DescriptionException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;

class InstructionCacheTest {

  private static final CacheGeometry GEOMETRY = CacheGeometry.builder(16384).ways(4).build();
  private static final CacheGeometry THREE_WAYS = CacheGeometry.builder(24576).ways(3).build();

  @Test
  void build_nothingSaid_hasTagsInBlockRam() {
    assertThat(InstructionCache.named("icache", GEOMETRY).build())
        .isEqualTo(
            new InstructionCache(
                "icache", GEOMETRY, TagPlace.BLOCK_RAM, Replacement.LRU, PredecodePlace.inline()));
  }

  @Test
  void build_choicesSaid_keepsThem() {
    InstructionCache cache =
        InstructionCache.named("icache", GEOMETRY)
            .tags(TagPlace.DISTRIBUTED_RAM)
            .replacement(Replacement.TREE_PLRU)
            .predecode(PredecodePlace.onFill(3))
            .build();
    assertThat(cache.tags().label()).isEqualTo("distributed_ram");
    assertThat(cache.replacement().label()).isEqualTo("tree_plru");
    assertThat(cache.predecode().label()).isEqualTo("on_fill_3");
    assertThat(cache.predecode().storedBits()).isEqualTo(3);
    assertThat(cache.replacementBits()).isEqualTo(128 * 3);
    assertThat(PredecodePlace.perWay().label()).isEqualTo("per_way");
    assertThat(PredecodePlace.inline().label()).isEqualTo("inline");
    assertThat(PredecodePlace.inline().storedBits()).isEqualTo(0);
  }

  @Test
  void build_badChoices_areRejected() {
    InstructionCache.Builder tree =
        InstructionCache.named("icache", THREE_WAYS).replacement(Replacement.TREE_PLRU);
    String rule = "the ways under tree_plru must be a power of two, found 3";
    assertFault(DescriptionException.class, "cache icache: " + rule, tree::build);
    assertFault(
        IllegalStateException.class,
        "cache model: " + rule,
        () -> CacheModel.of(THREE_WAYS, Replacement.TREE_PLRU));
    assertFault(
        IllegalStateException.class,
        "cache icache: replacement is given once, found LRU after TREE_PLRU",
        () -> tree.replacement(Replacement.LRU));
    for (int bits : new int[] {0, 33}) {
      assertFault(
          IllegalArgumentException.class,
          "pre-decode on fill: the bits stored for a byte must be in [1, 32], found " + bits,
          () -> PredecodePlace.onFill(bits));
    }
    assertThrows(IllegalArgumentException.class, () -> InstructionCache.named("no name", GEOMETRY));
    assertThrows(
        NullPointerException.class, () -> InstructionCache.named("icache", GEOMETRY).tags(null));
  }

  private static void assertFault(Class<? extends Exception> type, String message, Executable e) {
    assertThat(assertThrows(type, e)).hasMessageThat().isEqualTo(message);
  }
}

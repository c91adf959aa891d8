package dev.lengthwise.cache;

import java.util.Objects;
import java.util.Optional;

/**
 * One way to keep a part of a cache, alone or in the words of another part.
 *
 * <p>Immutable.
 *
 * @param own what the part stores
 * @param layout how its arrays lie
 * @param use the RAM; of both parts together if there is a carrier
 * @param carrier the RAM of the other part alone, whose words also take this part; empty if the
 *     part has RAM of its own
 */
public record RamOption(RamArray own, Layout layout, RamUse use, Optional<RamUse> carrier) {

  /** How the arrays of a part lie. */
  public enum Layout {
    /** An array for each way. */
    EACH_WAY("each_way", "each way apart"),
    /** One array, its word as wide as those of all ways. */
    SIDE_BY_SIDE("side_by_side", "the ways side by side"),
    /** One array, the ways one after the other; one way is read a cycle. */
    STACKED("stacked", "the ways one after the other"),
    /** One array, for all ways together. */
    WHOLE("whole", "one array"),
    /** In the words of the tags. */
    BESIDE_TAGS("beside_tags", "beside the tags"),
    /** In the words of the data. */
    BESIDE_DATA("beside_data", "beside the data");

    private final String label;
    private final String words;

    Layout(String label, String words) {
      this.label = label;
      this.words = words;
    }

    /**
     * Returns the name in tables.
     *
     * @return lower snake case
     */
    public String label() {
      return label;
    }
  }

  /**
   * Checks that nothing is missing.
   *
   * @param own see RamOption
   * @param layout see RamOption
   * @param use see RamOption
   * @param carrier see RamOption
   */
  public RamOption {
    Objects.requireNonNull(own, "own");
    Objects.requireNonNull(layout, "layout");
    Objects.requireNonNull(use, "use");
    Objects.requireNonNull(carrier, "carrier");
  }

  static RamOption alone(Layout layout, RamUse use) {
    return new RamOption(use.array(), layout, use, Optional.empty());
  }

  /**
   * Returns the primitives that the part takes.
   *
   * @return those that its carrier does not take without it
   */
  public long primitives() {
    return use.primitives() - carrier.map(RamUse::primitives).orElse(0L);
  }

  /**
   * Returns the RAM that the part takes: what options are compared by.
   *
   * @return bits of its primitives, as {@link #primitives()}
   */
  public long bitsTaken() {
    return use.bitsTaken() - carrier.map(RamUse::bitsTaken).orElse(0L);
  }

  /**
   * Returns what the option costs elsewhere.
   *
   * @return words, or empty
   */
  public Optional<String> consequence() {
    boolean valid = own.part() == RamArray.Part.VALID;
    boolean tags = own.part() == RamArray.Part.TAGS;
    return switch (layout) {
      case STACKED -> Optional.of("the way must be known before the data are read, a cycle later");
      case SIDE_BY_SIDE ->
          Optional.of("a fill writes one way's part of the word, by write enables or read back");
      case BESIDE_TAGS -> Optional.of(flush());
      default ->
          valid && use.medium() != RamUse.Medium.REGISTERS
              ? Optional.of(flush())
              : tags && use.medium() == RamUse.Medium.DISTRIBUTED_RAM
                  ? Optional.of("tags are compared a cycle ahead")
                  : Optional.empty();
    };
  }

  private String flush() {
    return "a flush of all lines takes " + own.rows() + " cycles";
  }

  /** Returns the option in words. */
  @Override
  public String toString() {
    String taken =
        carrier.isEmpty()
            ? use.toString()
            : primitives() == 0
                ? "no further primitive"
                : primitives() + " further, " + use + " for both";
    return layout.words + ": " + taken;
  }
}

package dev.lengthwise.cache;

import dev.lengthwise.device.DeviceProfile;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;

/**
 * One way to keep an array: in block RAMs or LUT RAMs of one shape, or in registers.
 *
 * <p>Each copy takes primitives of its own, side by side for its width and in banks for its rows;
 * spare bits of a shape are used like its others. Multiplexers behind banks and registers are not
 * counted, nor the LUTs that some devices take for a write address of its own. Immutable.
 *
 * @param array what is kept
 * @param medium what it is kept in
 * @param shape the shape of a primitive; empty for registers, which have one bit
 */
public record RamUse(RamArray array, Medium medium, Optional<DeviceProfile.RamShape> shape) {

  /**
   * Checks that RAM has a shape and registers have none.
   *
   * @param array see RamUse
   * @param medium see RamUse
   * @param shape see RamUse
   * @throws IllegalStateException if that is not so
   */
  public RamUse {
    Objects.requireNonNull(medium, "medium");
    Objects.requireNonNull(array, "array");
    if (shape.isEmpty() != (medium == Medium.REGISTERS)) {
      throw new IllegalStateException(
          String.format(
              Locale.ROOT,
              "ram use: RAM must have a shape and registers none, found %s for %s",
              shape.map(DeviceProfile.RamShape::toString).orElse("none"),
              medium.label()));
    }
  }

  /** What bits are kept in. */
  public enum Medium {
    /** Block RAM: a word arrives in the cycle after its address. */
    BLOCK_RAM("block_ram", "block RAM"),
    /** RAM in LUTs: a word arrives in the cycle of its address. */
    DISTRIBUTED_RAM("distributed_ram", "LUT RAM"),
    /** Registers: all can be cleared in one cycle. */
    REGISTERS("registers", "register");

    private final String label;
    private final String noun;

    Medium(String label, String noun) {
      this.label = label;
      this.noun = noun;
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

  /** Returns the use of the first shape with the fewest primitives, then banks; or none. */
  static Optional<RamUse> best(RamArray array, Medium medium, List<DeviceProfile.RamShape> shapes) {
    return shapes.stream()
        .map(shape -> new RamUse(array, medium, Optional.of(shape)))
        .min(Comparator.comparingLong(RamUse::primitives).thenComparingInt(RamUse::banks));
  }

  static RamUse registers(RamArray array) {
    return new RamUse(array, Medium.REGISTERS, Optional.empty());
  }

  /**
   * Returns the primitives that the rows of a copy fill one after the other.
   *
   * @return at least 1; more need a multiplexer
   */
  public int banks() {
    return shape.map(s -> ceilDiv(array.rows(), s.depth())).orElse(array.rows());
  }

  /**
   * Returns the primitives that the width of a copy fills side by side.
   *
   * @return at least 1
   */
  public int across() {
    return shape.map(s -> ceilDiv(array.width(), wordBits(s))).orElse(array.width());
  }

  /**
   * Returns the primitives of all copies.
   *
   * @return block RAMs, LUTs or registers
   */
  public long primitives() {
    return (long) array.copies() * banks() * across();
  }

  /**
   * Returns the rows that the banks of a copy have.
   *
   * @return at least the array's
   */
  public int rows() {
    return shape.map(s -> s.depth() * banks()).orElse(array.rows());
  }

  /**
   * Returns the rows of a copy that are empty.
   *
   * @return rows
   */
  public int rowsWasted() {
    return rows() - array.rows();
  }

  /**
   * Returns the bits of each used row that are free: room for more with the same word.
   *
   * @return bits
   */
  public int spareBits() {
    return shape.map(s -> across() * wordBits(s) - array.width()).orElse(0);
  }

  /**
   * Returns the bits of all primitives.
   *
   * @return bits
   */
  public long bitsTaken() {
    return primitives() * shape.map(DeviceProfile.RamShape::bits).orElse(1L);
  }

  /**
   * Returns the bits of all primitives that hold nothing.
   *
   * @return bits
   */
  public long bitsWasted() {
    return bitsTaken() - array.bits();
  }

  /** Returns the primitives as {@code "4 block RAMs of 1024 x 32+4"}. */
  @Override
  public String toString() {
    return primitives()
        + " "
        + medium.noun
        + (primitives() == 1 ? "" : "s")
        + shape.map(s -> " of " + s).orElse("");
  }

  private static int wordBits(DeviceProfile.RamShape shape) {
    return shape.width() + shape.spareBits();
  }

  private static int ceilDiv(int value, int by) {
    return (value + by - 1) / by;
  }
}

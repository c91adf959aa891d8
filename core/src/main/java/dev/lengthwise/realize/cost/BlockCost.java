package dev.lengthwise.realize.cost;

import java.util.Objects;

/**
 * What a block costs. An estimate: synthesis, placement and routing decide.
 *
 * @param block the block's name; the whole design for the last of a design's costs
 * @param luts LUTs
 * @param sites LUT positions, a dual-output LUT serving two functions; a LUT that multiplexers
 *     stand in for takes none
 * @param wideMuxes dedicated two-way multiplexers behind LUTs, where the device has them; what they
 *     stand in for is still counted in {@code luts} and {@code levels}
 * @param levels LUTs on the longest path
 * @param registers flip-flops; those of which no output depends on are counted too
 * @param blockRams block RAM primitives
 * @param distributedRamBits bits of distributed RAM
 * @param proved true if the LUTs were proved to have the function of their description
 */
public record BlockCost(
    String block,
    int luts,
    int sites,
    int wideMuxes,
    int levels,
    int registers,
    int blockRams,
    int distributedRamBits,
    boolean proved) {
  /**
   * Checks for null.
   *
   * @param block see BlockCost
   * @param luts see BlockCost
   * @param sites see BlockCost
   * @param wideMuxes see BlockCost
   * @param levels see BlockCost
   * @param registers see BlockCost
   * @param blockRams see BlockCost
   * @param distributedRamBits see BlockCost
   * @param proved see BlockCost
   */
  public BlockCost {
    Objects.requireNonNull(block, "block");
  }

  /**
   * Returns the same figures with RAM.
   *
   * @param blocks block RAMs
   * @param distributedBits bits of distributed RAM
   * @return the cost with this RAM
   */
  public BlockCost withRam(int blocks, int distributedBits) {
    return new BlockCost(
        block, luts, sites, wideMuxes, levels, registers, blocks, distributedBits, proved);
  }

  /**
   * Returns the same figures with registers.
   *
   * @param count flip-flops
   * @return the cost with these registers
   */
  public BlockCost withRegisters(int count) {
    return new BlockCost(
        block, luts, sites, wideMuxes, levels, count, blockRams, distributedRamBits, proved);
  }

  /**
   * Returns the same figures for a block of another name.
   *
   * @param name the name
   * @return the same cost under that name
   */
  public BlockCost withName(String name) {
    Objects.requireNonNull(name, "name");
    return new BlockCost(
        name, luts, sites, wideMuxes, levels, registers, blockRams, distributedRamBits, proved);
  }
}

package dev.lengthwise.logic;

import java.util.List;

/**
 * A lane as a LUT network, with what each LUT is for.
 *
 * @param shape the function
 * @param network the network; input {@code 8 * p + i} is bit i of byte p, then come the modes, and
 *     output i is bit i of the length
 * @param roles the role of each LUT of the network, in its order
 * @param codes the codes that pass between the blocks, in words
 */
public record LaneMapping(
    LaneShape shape, LutNetwork network, List<Role> roles, List<String> codes) {

  /**
   * What a LUT is for.
   *
   * @param block the block it belongs to
   * @param position the byte that the block reads first, from the lane's own byte 0
   * @param what what it says
   */
  public record Role(String block, int position, String what) {}

  /**
   * Copies the lists.
   *
   * @param shape see LaneMapping
   * @param network see LaneMapping
   * @param roles see LaneMapping
   * @param codes see LaneMapping
   */
  public LaneMapping {
    roles = List.copyOf(roles);
    codes = List.copyOf(codes);
  }

  /**
   * Tells whether this has fewer LUTs, or as few at fewer levels.
   *
   * @param other another mapping of the same function
   * @return true if this is better
   */
  public boolean isBetterThan(LaneMapping other) {
    int luts = network.luts().size() - other.network.luts().size();
    return luts < 0 || luts == 0 && network.levels() < other.network.levels();
  }
}

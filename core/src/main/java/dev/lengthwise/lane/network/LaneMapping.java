package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.Packing;
import java.util.Comparator;
import java.util.List;

/**
 * A lane as a LUT network, with what each LUT is for.
 *
 * @param shape the function
 * @param network the network; input {@code 8 * p + i} is bit i of byte p, then come the modes, and
 *     output i is bit i of the length
 * @param roles the role of each LUT of the network, in its order
 * @param codes the codes that pass between the blocks, in words
 * @param proof how the network was found to be the function
 */
public record LaneMapping(
    LaneFunction shape,
    LutNetwork network,
    List<Role> roles,
    List<String> codes,
    LaneProof.Outcome proof) {

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
   * @param proof see LaneMapping
   */
  public LaneMapping {
    roles = List.copyOf(roles);
    codes = List.copyOf(codes);
  }

  /**
   * Proves a network and makes it a mapping.
   *
   * @param shape see LaneMapping
   * @param network see LaneMapping
   * @param roles see LaneMapping
   * @param codes see LaneMapping
   * @return the mapping, with a proof that holds
   * @throws IllegalStateException if the network is not the function
   */
  public static LaneMapping prove(
      LaneFunction shape, LutNetwork network, List<Role> roles, List<String> codes) {
    LaneProof.Outcome proof = LaneProof.run(shape, network);
    if (!proof.proved()) {
      throw new IllegalStateException(
          "lane mapping: the network must be the lane, found a difference in "
              + proof.difference().orElseThrow());
    }
    return new LaneMapping(shape, network, roles, codes, proof);
  }

  /**
   * Tells whether the network is the function at every point that matters.
   *
   * @return true if the proof holds
   */
  public boolean proved() {
    return proof.proved();
  }

  /**
   * Returns the sites that the LUTs take where a site serves two LUTs with few distinct inputs.
   *
   * @param pairInputs the most distinct inputs of two LUTs that share a site; 0 for none
   * @return sites
   */
  public int sites(int pairInputs) {
    return Packing.of(network, pairInputs).sites().size();
  }

  /**
   * Tells whether this is better than another mapping of the same function.
   *
   * @param other the other
   * @param order the order of networks, the best first
   * @return true if this comes before the other
   */
  public boolean isBetterThan(LaneMapping other, Comparator<LutNetwork> order) {
    return order.compare(network, other.network) < 0;
  }
}

package dev.lengthwise.realize.row;

import dev.lengthwise.circuit.Circuit;
import java.util.List;
import java.util.Map;

/**
 * A lane cut in two for a row of lanes: the work that is the same for every lane that sees a byte,
 * done by a block at each byte, and the rest, done by blocks at each lane that read what the blocks
 * at its bytes say.
 *
 * @param atByte the block of a byte: input {@code code}, its first byte in bits 7 to 0, and modes;
 *     null if nothing is shared
 * @param parts the blocks of a lane
 */
public record SharedLane(Circuit atByte, List<Part> parts) {

  /**
   * What connects a lane to a byte.
   *
   * @param input the lane block's input
   * @param position the byte, counted from the lane's own
   * @param output the byte block's output
   */
  record Wire(String input, int position, String output) {}

  /**
   * A block of a lane; its inputs without wire are {@code code}, the lane's bytes, and modes.
   *
   * @param name what tells it from the lane's other blocks; may be empty
   * @param block the block
   * @param wires its inputs that come from blocks at bytes
   * @param lengths its outputs that say a length, by late word
   */
  record Part(String name, Circuit block, List<Wire> wires, Map<Integer, String> lengths) {

    Part {
      wires = List.copyOf(wires);
      lengths = Map.copyOf(lengths);
    }
  }

  public SharedLane {
    parts = List.copyOf(parts);
  }

  /** Returns the last byte, counted from the lane's own, whose block a lane reads. */
  int lastPosition() {
    return parts.stream()
        .flatMap(part -> part.wires().stream())
        .mapToInt(Wire::position)
        .max()
        .orElse(-1);
  }
}

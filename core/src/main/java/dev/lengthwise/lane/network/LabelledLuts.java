package dev.lengthwise.lane.network;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;

/** A lane's network while it is put together, part by part, with what the LUTs of each are for. */
public final class LabelledLuts {

  private final LaneFunction shape;
  private final LutNetworkBuilder builder;
  private final Map<Integer, LaneMapping.Role> roles = new HashMap<>();
  private int labelled;

  /**
   * Starts a network that has no LUT.
   *
   * @param shape the lane; inputs are numbered as {@link LaneMapping} does
   */
  public LabelledLuts(LaneFunction shape) {
    this.shape = shape;
    this.builder = LutNetwork.builder(inputNames(shape));
    this.labelled = builder.signals();
  }

  /**
   * Returns the names of a lane's inputs, in their order.
   *
   * @param shape the lane
   * @return eight for each byte, then the modes
   */
  public static List<String> inputNames(LaneFunction shape) {
    List<String> names = new ArrayList<>();
    for (int p = 0; p < shape.bytes(); p++) {
      for (int i = 0; i < 8; i++) {
        names.add("byte" + p + "_" + i);
      }
    }
    names.addAll(shape.modes());
    return names;
  }

  /**
   * Returns what LUTs are added to.
   *
   * @return the builder
   */
  public LutNetworkBuilder builder() {
    return builder;
  }

  /**
   * Gives the LUTs added since the last call a role.
   *
   * @param block the block they belong to
   * @param position the byte that the block reads first
   * @param what what they say
   */
  public void label(String block, int position, String what) {
    int next = builder.signals();
    for (int signal = labelled; signal < next; signal++) {
      roles.put(signal, new LaneMapping.Role(block, position, what));
    }
    labelled = next;
  }

  /** Leaves the LUTs added since the last call to {@link #label} as they are. */
  public void pass() {
    labelled = builder.signals();
  }

  /**
   * Adds the network of a lane, its LUTs with their roles there.
   *
   * @param part the lane's mapping
   * @param inputs the signal that each of its inputs is here
   * @return the signal that each bit of its length is here
   */
  public int[] append(LaneMapping part, int... inputs) {
    LutNetwork network = part.network();
    int[] signals = Arrays.copyOf(inputs, inputs.length + network.luts().size());
    for (int i = 0; i < network.luts().size(); i++) {
      LutNetwork.Lut lut = network.luts().get(i);
      signals[inputs.length + i] =
          builder.lut(lut.table(), lut.fanIns().stream().mapToInt(s -> signals[s]).toArray());
      LaneMapping.Role role = part.roles().get(i);
      label(role.block(), role.position(), role.what());
    }
    return network.outputs().stream()
        .mapToInt(output -> output.signal() < 0 ? output.signal() : signals[output.signal()])
        .toArray();
  }

  /**
   * Makes the network the lane's mapping.
   *
   * @param length the signal of each bit of the length
   * @param codes the codes that pass between the blocks, in words
   * @return the mapping, with a proof that holds
   * @throws IllegalStateException if the network is not the lane
   */
  public LaneMapping prove(int[] length, List<String> codes) {
    for (int bit = 0; bit < length.length; bit++) {
      builder.output("length" + bit, length[bit]);
    }
    LutNetwork network = builder.build();
    LaneMapping.Role[] ordered = new LaneMapping.Role[network.luts().size()];
    roles.forEach(
        (signal, role) -> {
          int built = builder.builtSignal(signal);
          if (built >= network.inputNames().size()) {
            ordered[built - network.inputNames().size()] = role;
          }
        });
    return LaneMapping.prove(shape, network, List.of(ordered), codes);
  }
}

package dev.lengthwise.lane.network;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.List;
import java.util.stream.IntStream;

/**
 * A lane that answers for every value of some modes at once, so that they can be applied behind it.
 * What does not depend on those modes is there once.
 *
 * @param network inputs as those of {@link LaneMapping}, the late modes not read; for each late
 *     word the bits of the length, word 0 first
 * @param roles the role of each LUT
 */
public record LateLane(LutNetwork network, List<LaneMapping.Role> roles) {

  /** Inputs: when 0, when 1, the mode. */
  private static final TruthTable CHOICE = TruthTable.parse("01010011");

  /**
   * Copies the list.
   *
   * @param network see LateLane
   * @param roles see LateLane
   */
  public LateLane {
    roles = List.copyOf(roles);
  }

  /**
   * Makes a lane anew in which some modes choose at the end between what it says for each of their
   * values, the last of them last: for modes that are there late.
   *
   * @param mapping the lane
   * @param late the modes by name, the latest last
   * @return the lane, proved
   * @throws IllegalArgumentException if a mode is unknown
   */
  public static LaneMapping choosing(LaneMapping mapping, List<String> late) {
    LaneMapping.Role choice = new LaneMapping.Role("lane", 0, "choice by late modes");
    LateLane lane = of(mapping, late);
    LutNetwork words = lane.network();
    LutNetworkBuilder builder = LutNetwork.builder(words.inputNames());
    int inputs = words.inputNames().size();
    int[] signals = builder.append(words, IntStream.range(0, inputs).toArray());
    List<LaneMapping.Role> roles = lane.roles();
    int firstMode = 8 * mapping.shape().bytes();
    int bits = mapping.shape().lengthBits();
    for (String mode : late) {
      int select = firstMode + mapping.shape().modes().indexOf(mode);
      int[] chosen = new int[signals.length / 2];
      for (int i = 0; i < chosen.length; i++) {
        int word = i / bits;
        int zero = signals[2 * word * bits + i % bits];
        int one = signals[(2 * word + 1) * bits + i % bits];
        chosen[i] = builder.lut(CHOICE, zero, one, select);
      }
      signals = chosen;
    }
    for (int bit = 0; bit < bits; bit++) {
      builder.output(mapping.network().outputs().get(bit).name(), signals[bit]);
    }
    LutNetwork network = builder.build();
    LaneMapping.Role[] kept = new LaneMapping.Role[network.luts().size()];
    Arrays.fill(kept, choice);
    for (int i = 0; i < roles.size(); i++) {
      int built = builder.builtSignal(inputs + i) - inputs;
      if (built >= 0) {
        kept[built] = roles.get(i);
      }
    }
    return LaneMapping.prove(mapping.shape(), network, List.of(kept), mapping.codes());
  }

  /**
   * Makes modes late.
   *
   * @param mapping the lane
   * @param late the late modes by name; the first is bit 0 of a late word
   * @return the lane
   * @throws IllegalArgumentException if a mode is unknown
   */
  public static LateLane of(LaneMapping mapping, List<String> late) {
    LutNetwork lane = mapping.network();
    int inputs = lane.inputNames().size();
    int firstMode = 8 * mapping.shape().bytes();
    LutNetworkBuilder builder = LutNetwork.builder(lane.inputNames());
    List<Integer> sources = new ArrayList<>();
    for (int word = 0; word < 1 << late.size(); word++) {
      int[] signals = new int[inputs + lane.luts().size()];
      for (int i = 0; i < inputs; i++) {
        signals[i] = i;
      }
      for (int mode = 0; mode < late.size(); mode++) {
        int place = mapping.shape().modes().indexOf(late.get(mode));
        if (place < 0) {
          throw new IllegalArgumentException(
              "late lane: a mode of the lane is expected, found " + late.get(mode));
        }
        signals[firstMode + place] = (word >> mode & 1) == 0 ? LutNetwork.ZERO : LutNetwork.ONE;
      }
      for (int lut = 0; lut < lane.luts().size(); lut++) {
        int[] fanIns = lane.luts().get(lut).fanIns().stream().mapToInt(s -> signals[s]).toArray();
        int signal = builder.lut(lane.luts().get(lut).table(), fanIns);
        signals[inputs + lut] = signal;
        while (sources.size() < builder.signals() - inputs) {
          sources.add(lut);
        }
      }
      for (LutNetwork.Output output : lane.outputs()) {
        int signal = output.signal();
        builder.output("word_" + word + "_" + output.name(), signal < 0 ? signal : signals[signal]);
      }
    }
    LutNetwork network = builder.build();
    List<LaneMapping.Role> roles =
        new ArrayList<>(Collections.nCopies(network.luts().size(), null));
    for (int i = 0; i < sources.size(); i++) {
      int built = builder.builtSignal(inputs + i) - inputs;
      if (built >= 0) {
        roles.set(built, mapping.roles().get(sources.get(i)));
      }
    }
    return new LateLane(network, roles);
  }
}

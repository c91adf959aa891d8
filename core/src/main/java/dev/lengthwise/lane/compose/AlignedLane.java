package dev.lengthwise.lane.compose;

import dev.lengthwise.lane.function.AlignedFunction;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LabelledLuts;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.map.LutTree;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * A lane that first brings its operand specifier to one place and then reads it once, where others
 * have a code of the specifier for each byte that it may stand at, and choose among these.
 */
public final class AlignedLane {

  private static final String BLOCK = "specifier";

  private final LaneFunction shape;
  private final AlignedFunction parts;
  private final MapperSettings settings;
  private final LabelledLuts luts;

  private AlignedLane(LaneFunction shape, AlignedFunction parts, MapperSettings settings) {
    this.shape = shape;
    this.parts = parts;
    this.settings = settings;
    this.luts = new LabelledLuts(shape);
  }

  /**
   * Maps a lane.
   *
   * @param shape the lane
   * @param parts the lane taken apart
   * @param settings what for, and how much to search
   * @param mapper maps both parts
   * @return the mapping, proved; empty if one of the parts is not mapped
   */
  public static Optional<LaneMapping> map(
      LaneFunction shape, AlignedFunction parts, MapperSettings settings, PartMapper mapper) {
    int[] bytes = IntStream.range(0, 8 * parts.place().bytes()).toArray();
    return mapper
        .map(parts.place(), bytes)
        .flatMap(
            place ->
                mapper
                    .map(parts.aligned(), firstInputs(shape, parts))
                    .map(aligned -> new AlignedLane(shape, parts, settings).join(place, aligned)));
  }

  /** Returns for each input of the aligned lane the lane's, a specifier's at the first place. */
  private static int[] firstInputs(LaneFunction shape, AlignedFunction parts) {
    int bits = 8 * shape.bytes();
    int behind = 8 * parts.aligned().bytes();
    return IntStream.range(0, behind + shape.modes().size())
        .map(i -> i < bits ? i : i < behind ? parts.inputs(shape, i - bits)[0] : bits + i - behind)
        .toArray();
  }

  private LaneMapping join(LaneMapping place, LaneMapping aligned) {
    int[] bytes = IntStream.range(0, 8 * place.shape().bytes()).toArray();
    int[] chosen = luts.append(place, bytes);
    int[] inputs = firstInputs(shape, parts);
    for (int i = 8 * shape.bytes(); i < 8 * aligned.shape().bytes(); i++) {
      inputs[i] =
          isRead(aligned.network(), i) ? choice(chosen, i - 8 * shape.bytes()) : LutNetwork.ZERO;
    }
    return luts.prove(luts.append(aligned, inputs), aligned.codes());
  }

  private static boolean isRead(LutNetwork network, int input) {
    return network.luts().stream().anyMatch(lut -> lut.fanIns().contains(input))
        || network.outputs().stream().anyMatch(output -> output.signal() == input);
  }

  /** Builds a bit of the specifier's bytes: that at the place chosen. */
  private int choice(int[] chosen, int bit) {
    int[] inputs = parts.inputs(shape, bit);
    List<Integer> signals = new ArrayList<>();
    for (int signal : chosen) {
      signals.add(signal);
    }
    int[] at = new int[inputs.length];
    for (int place = 0; place < inputs.length; place++) {
      at[place] = -1;
      if (inputs[place] < 8 * shape.bytes()) {
        at[place] = signals.size();
        signals.add(inputs[place]);
      }
    }
    int places = (1 << chosen.length) - 1;
    TruthTable table =
        TruthTable.of(
            signals.size(),
            point -> (point >> at[point & places] & 1) != 0,
            point -> (point & places) < at.length && at[point & places] >= 0);
    LutTree tree =
        new LutTree(luts.builder(), settings.lutInputs(), settings.objective(), settings.effort());
    int[] result =
        tree.buildAll(List.of(table), signals.stream().mapToInt(Integer::intValue).toArray());
    luts.label(BLOCK, parts.offsets().get(0), "bit " + bit + ", wherever it stands");
    return result[0];
  }
}

package dev.lengthwise.lane;

import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LabelledLuts;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.map.LutMapper;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.support.SupportReducer;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;

/** Maps a lane whose length depends on few bits as one table of them. */
public final class LaneTableMapper {

  /** The bits up to which a table is mapped in seconds. */
  private static final int MOST_INPUTS = 12;

  private static final LaneMapping.Role ROLE =
      new LaneMapping.Role("lane", 0, "table of the bits that matter");

  private LaneTableMapper() {}

  /**
   * Maps a lane.
   *
   * @param shape the function
   * @param settings what for, and how much to search
   * @return the mapping, proved; empty if the length depends on more than {@value #MOST_INPUTS}
   *     bits and modes
   */
  public static Optional<LaneMapping> map(LaneFunction shape, MapperSettings settings) {
    int inputs = 8 * shape.bytes() + shape.modes().size();
    List<Integer> read = IntStream.range(0, inputs).filter(shape::reads).boxed().toList();
    if (read.size() > MOST_INPUTS || read.isEmpty()) {
      return Optional.empty();
    }
    int[] lengths = new int[1 << read.size()];
    for (int point = 0; point < lengths.length; point++) {
      lengths[point] = length(shape, read, point);
    }
    List<TruthTable> tables = new ArrayList<>();
    for (int b = 0; b < shape.lengthBits(); b++) {
      int bit = b;
      tables.add(
          TruthTable.of(
              read.size(),
              point -> lengths[point] > 0 && (lengths[point] >> bit & 1) != 0,
              point -> lengths[point] != LaneFunction.ANYTHING));
    }
    int kept = SupportReducer.smallest(tables);
    List<Integer> matter =
        IntStream.range(0, read.size())
            .filter(i -> (kept >> i & 1) != 0)
            .mapToObj(read::get)
            .toList();
    LutNetwork network = network(shape, matter, SupportReducer.restrict(tables, kept), settings);
    return Optional.of(
        LaneMapping.prove(
            shape,
            network,
            Collections.nCopies(network.luts().size(), ROLE),
            List.of("no codes: the length is one table of the bits that matter")));
  }

  private static int length(LaneFunction shape, List<Integer> read, int point) {
    int[] window = new int[shape.bytes()];
    int modes = 0;
    for (int i = 0; i < read.size(); i++) {
      int input = read.get(i);
      int value = point >> i & 1;
      if (input < 8 * window.length) {
        window[input >> 3] |= value << (input & 7);
      } else {
        modes |= value << (input - 8 * window.length);
      }
    }
    return shape.length(window, modes);
  }

  private static LutNetwork network(
      LaneFunction shape, List<Integer> inputs, List<TruthTable> tables, MapperSettings settings) {
    List<String> names = LabelledLuts.inputNames(shape);
    List<String> outputs =
        IntStream.range(0, tables.size()).mapToObj(bit -> "length" + bit).toList();
    LutNetwork mapped =
        LutMapper.forInputs(settings.lutInputs())
            .withEffort(settings.effort())
            .withObjective(settings.objective())
            .withSeed(settings.seed())
            .withDelays(
                settings.delays().ofInputs(inputs.stream().mapToInt(Integer::intValue).toArray()))
            .map(TruthTables.of(inputs.stream().map(names::get).toList(), outputs, tables));
    LutNetworkBuilder builder = LutNetwork.builder(names);
    int[] signals = builder.append(mapped, inputs.stream().mapToInt(Integer::intValue).toArray());
    for (int bit = 0; bit < signals.length; bit++) {
      builder.output(outputs.get(bit), signals[bit]);
    }
    return builder.build();
  }
}

package dev.lengthwise.lane.compose;

import dev.lengthwise.lane.function.HandledRows;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.network.LabelledLuts;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.logic.map.LutMapper;
import dev.lengthwise.logic.map.LutTree;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.support.SupportReducer;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;

/**
 * A lane as two networks: which rows it handles, map by map, and how long those are, where the
 * others are left open. Maps whose rows the byte behind tells apart are many, but most differ in
 * what is handled only, so the second needs few of them.
 */
public final class HandledLane {

  /** The bits of a number that choose in one table. */
  private static final int MOST_NUMBER_BITS = 3;

  private final LaneFunction shape;
  private final HandledRows rows;
  private final MapperSettings settings;
  private final LabelledLuts luts;
  private final LutTree tree;
  private final Map<List<TruthTable>, LutNetwork> mapped = new HashMap<>();
  private final Map<Integer, Integer> handled = new HashMap<>();

  private HandledLane(LaneFunction shape, MapperSettings settings) {
    this.shape = shape;
    this.rows = new HandledRows(shape);
    this.settings = settings;
    this.luts = new LabelledLuts(shape);
    this.tree =
        new LutTree(luts.builder(), settings.lutInputs(), settings.objective(), settings.effort());
  }

  /**
   * Maps a lane.
   *
   * @param shape the lane
   * @param settings what for, and how much to search
   * @param mapper maps the lane of the rows that are handled
   * @return the mapping, proved; empty if all rows are handled, or that lane is not mapped
   */
  public static Optional<LaneMapping> map(
      LaneFunction shape, MapperSettings settings, PartMapper mapper) {
    LaneFunction opened = HandledRows.opened(shape);
    if (opened.codedMaps().equals(shape.codedMaps())) {
      return Optional.empty();
    }
    return mapper
        .map(opened, inputs(shape, opened))
        .map(length -> new HandledLane(shape, settings).join(length));
  }

  /** Returns for each input of the opened lane the lane's. */
  private static int[] inputs(LaneFunction shape, LaneFunction opened) {
    int bits = 8 * opened.bytes();
    return IntStream.range(0, bits + shape.modes().size())
        .map(i -> i < bits ? i : 8 * shape.bytes() + i - bits)
        .toArray();
  }

  private LaneMapping join(LaneMapping length) {
    int[] bits = luts.append(length, inputs(shape, length.shape()));
    int handles = handled(0);
    TruthTable and = TruthTable.of(2, point -> point == 3);
    for (int bit = 0; bit < bits.length; bit++) {
      bits[bit] = luts.builder().lut(and, bits[bit], handles);
    }
    luts.label("handled", 0, "length where handled");
    return luts.prove(Arrays.copyOf(bits, shape.lengthBits()), length.codes());
  }

  /** Returns the signal that tells whether a row of a map, or of those behind it, is handled. */
  private int handled(int map) {
    Integer known = handled.get(map);
    if (known != null) {
      return known;
    }
    int[][] answers = rows.answers(map);
    HandledStage stage = new HandledStage(answers);
    List<Integer> further = HandledRows.further(answers);
    int signal = own(map, stage);
    if (!further.isEmpty()) {
      signal = chosen(map, stage, further, signal);
    }
    handled.put(map, signal);
    return signal;
  }

  /** Builds what a map says of its own rows. */
  private int own(int map, HandledStage stage) {
    LaneFunction.CodeMap codeMap = shape.codedMaps().get(map);
    int offset = 8 * codeMap.offset();
    List<Integer> signals = new ArrayList<>();
    add(signals, tables(stage.ofCode(), offset));
    int flag = signals.size() - 1;
    int needed = SupportReducer.smallest(List.of(stage.half()));
    TruthTable half = SupportReducer.restrict(List.of(stage.half()), needed).get(0);
    int halfAt = signals.size();
    add(signals, read(needed, offset + 8));
    int specialAt = signals.size();
    if (stage.hasSpecial()) {
      add(signals, tables(List.of(stage.special()), offset));
    }
    luts.label(codeMap.name(), codeMap.offset(), "handled");
    int values = (1 << half.inputs()) - 1;
    return build(
        codeMap,
        TruthTable.of(
            signals.size(),
            point -> {
              boolean special = stage.hasSpecial() && (point >> flag & 1) != 0;
              int within = half.isOn(point >> halfAt & values) ? 1 : 0;
              return (point >> (special ? specialAt : within) & 1) != 0;
            }),
        signals);
  }

  private int build(LaneFunction.CodeMap map, TruthTable table, List<Integer> signals) {
    int[] all = signals.stream().mapToInt(Integer::intValue).toArray();
    int result = tree.buildAll(List.of(table), all)[0];
    luts.label(map.name(), map.offset(), "handled, here or behind");
    return result;
  }

  /** Builds the choice between a map's own answer and those of the maps that it leads to. */
  private int chosen(int map, HandledStage stage, List<Integer> further, int own) {
    LaneFunction.CodeMap codeMap = shape.codedMaps().get(map);
    int count = Integer.SIZE - Integer.numberOfLeadingZeros(further.size());
    List<TruthTable> tables =
        IntStream.range(0, count).mapToObj(bit -> stage.chooses(further, bit)).toList();
    int[] number = tables(tables, 8 * codeMap.offset());
    luts.label(codeMap.name(), codeMap.offset(), "map that tells whether it is handled");
    List<Integer> choices = new ArrayList<>();
    choices.add(own);
    for (int other : further) {
      choices.add(handled(other));
    }
    return chosen(codeMap, number, choices);
  }

  /** Builds the choice with a number, two of its bits after the other where there are many. */
  private int chosen(LaneFunction.CodeMap map, int[] number, List<Integer> choices) {
    if (number.length > MOST_NUMBER_BITS) {
      int[] low = Arrays.copyOf(number, 2);
      List<Integer> fewer = new ArrayList<>();
      for (int from = 0; from < choices.size(); from += 4) {
        fewer.add(chosen(map, low, choices.subList(from, Math.min(from + 4, choices.size()))));
      }
      return chosen(map, Arrays.copyOfRange(number, 2, number.length), fewer);
    }
    List<Integer> signals = new ArrayList<>();
    add(signals, number);
    signals.addAll(choices);
    int bits = number.length;
    int numbers = (1 << bits) - 1;
    TruthTable table =
        TruthTable.of(
            signals.size(),
            point -> (point >> bits + (point & numbers) & 1) != 0,
            point -> (point & numbers) < choices.size());
    return build(map, table, signals);
  }

  /** Builds tables of the bits from an input on. */
  private int[] tables(List<TruthTable> tables, int first) {
    int needed = SupportReducer.smallest(tables);
    List<TruthTable> small = SupportReducer.restrict(tables, needed);
    return luts.builder().append(mapped.computeIfAbsent(small, this::mapped), read(needed, first));
  }

  private LutNetwork mapped(List<TruthTable> tables) {
    return LutMapper.forInputs(settings.lutInputs())
        .withEffort(settings.effort())
        .withObjective(settings.objective())
        .withSeed(settings.seed())
        .map(TruthTables.of(tables));
  }

  private static int[] read(int needed, int first) {
    return IntStream.range(0, 16)
        .filter(bit -> (needed >> bit & 1) != 0)
        .map(bit -> first + bit)
        .toArray();
  }

  private static void add(List<Integer> signals, int[] more) {
    for (int signal : more) {
      signals.add(signal);
    }
  }
}

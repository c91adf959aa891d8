package dev.lengthwise.realize.lane;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.logic.column.ColumnReduction;
import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.map.LutTree;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.predecode.row.LaneRow;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.IntStream;

/**
 * LUTs: groups of key bits that matter by few classes only become codes, until the words are tables
 * of few inputs, which are mapped together. What stays too wide for that is a whole table.
 *
 * @param settings what is mapped for
 */
public record MappedWords(MapperSettings settings) implements WordLogic {

  /** The inputs up to which tables are mapped in seconds. */
  private static final int MOST_MAPPED = 12;

  /** The inputs of a group; smaller LUTs have room for too few columns, so they take several. */
  private static final int LEAST_GROUP_INPUTS = 6;

  @Override
  public String style() {
    return "lut_network";
  }

  @Override
  public Signal word(CircuitBuilder circuit, RowTable table, Signal key, List<Signal> modes) {
    Words words = Words.of(table, 1 << modes.size());
    ColumnReduction reduced =
        ColumnReduction.of(
            words.kinds,
            Math.max(LEAST_GROUP_INPUTS, settings.lutInputs()),
            MOST_MAPPED - modes.size());
    if (reduced.signals().size() + modes.size() > MOST_MAPPED) {
      return new RomWords().word(circuit, table, key, modes);
    }
    List<Signal> signals = new ArrayList<>();
    for (int i = 0; i < table.codeBits(); i++) {
      signals.add(circuit.bit(key, i));
    }
    signals.addAll(modes);
    LutNetwork network = network(table, words, reduced, modes.size());
    for (LutNetwork.Lut lut : network.luts()) {
      long[] bits = new long[1 << lut.fanIns().size()];
      Arrays.setAll(bits, point -> lut.table().isOn(point) ? 1 : 0);
      signals.add(
          circuit.lut(lut.fanIns().stream().map(signals::get).toList(), Contents.of(1, bits)));
    }
    return circuit.concat(
        network.outputs().stream()
            .map(
                o ->
                    o.signal() < 0
                        ? circuit.constant(o.signal() == LutNetwork.ONE ? 1 : 0, 1)
                        : signals.get(o.signal()))
            .toList());
  }

  private LutNetwork network(RowTable table, Words words, ColumnReduction reduced, int modes) {
    int keyBits = table.codeBits();
    LutNetworkBuilder builder =
        LutNetwork.builder(IntStream.range(0, keyBits + modes).mapToObj(i -> "i" + i).toList());
    LutTree tree =
        new LutTree(builder, settings.lutInputs(), settings.objective(), settings.effort());
    List<Integer> made = new ArrayList<>(IntStream.range(0, keyBits).boxed().toList());
    for (ColumnReduction.Step step : reduced.steps()) {
      int[] read = step.signals().stream().mapToInt(made::get).toArray();
      Arrays.stream(tree.buildAll(step.code(), read)).forEach(made::add);
    }
    int[] left =
        IntStream.concat(
                reduced.signals().stream().mapToInt(made::get),
                IntStream.range(keyBits, keyBits + modes))
            .toArray();
    int points = 1 << reduced.signals().size();
    List<TruthTable> tables = new ArrayList<>();
    for (int i = 0; i < table.wordBits(); i++) {
      int bit = i;
      tables.add(
          TruthTable.of(
              left.length,
              p -> words.is(words.values, reduced.kind(p % points), p / points, bit),
              p -> words.is(words.cares, reduced.kind(p % points), p / points, bit)));
    }
    int[] outputs = tree.buildAll(tables, left);
    for (int i = 0; i < outputs.length; i++) {
      builder.output("o" + i, outputs[i]);
    }
    return builder.build();
  }

  /** The words of a table by kind of row: rows of one kind say the same under all modes. */
  private static final class Words {

    private final int[] kinds;
    private final List<long[]> values = new ArrayList<>();
    private final List<long[]> cares = new ArrayList<>();

    private Words(int codes) {
      this.kinds = new int[codes];
    }

    static Words of(RowTable table, int modeValues) {
      Words words = new Words(table.rows().size());
      Map<LaneRow, Integer> ofRow = new HashMap<>();
      Map<List<Long>, Integer> numbers = new HashMap<>();
      for (int code = 0; code < words.kinds.length; code++) {
        LaneRow row = table.rows().get(code);
        Integer kind = ofRow.get(row);
        if (kind == null) {
          kind = words.kind(table, row, modeValues, numbers);
          ofRow.put(row, kind);
        }
        words.kinds[code] = kind;
      }
      return words;
    }

    private int kind(
        RowTable table, LaneRow row, int modeValues, Map<List<Long>, Integer> numbers) {
      long[] care = new long[modeValues];
      long[] value = new long[modeValues];
      List<Long> both = new ArrayList<>();
      for (int word = 0; word < modeValues; word++) {
        care[word] = table.care(row, word);
        value[word] = table.word(row, word) & care[word];
        both.add(care[word]);
        both.add(value[word]);
      }
      if (Arrays.stream(care).allMatch(bits -> bits == 0)) {
        return ColumnReduction.ANYTHING;
      }
      return numbers.computeIfAbsent(
          both,
          key -> {
            values.add(value);
            cares.add(care);
            return values.size() - 1;
          });
    }

    boolean is(List<long[]> words, int kind, int modeValue, int bit) {
      return kind != ColumnReduction.ANYTHING && (words.get(kind)[modeValue] >> bit & 1) != 0;
    }
  }
}

package dev.lengthwise.study.accuracy;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.table.Row;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.stream.IntStream;

/**
 * Compares what a lane says with the truth at every input that can make a difference.
 *
 * <p>Tried are, under every value of the modes and behind every number of prefixes that the lane
 * looks through with every value of the modes that they lead to, one more prefix, and every row of
 * every map along every way of escapes, with every byte behind it where the row or its operand
 * specifier reads one, and every second byte where the specifier reads that. Behind prefixes, one
 * specifier byte stands for all that add the same. That is enough for the golden function of a
 * lane, which is made of the lengths that a specifier's bytes add, behind prefixes as without them;
 * other answers, as a circuit's, may be wrong for one byte of a class behind a prefix unseen. Bytes
 * that no row reads cannot make a difference to the truth; a few values of each are tried on the
 * lane.
 *
 * @param points the inputs compared
 * @param lies the first inputs at which the lane says a length that is not the truth, at most
 *     {@value #MOST_LIES} of them
 */
public record AccuracyCheck(long points, List<Lie> lies) {

  /** The most lies that are listed. */
  public static final int MOST_LIES = 100;

  /** Says the length of the item at an offset under modes, as {@link LaneModel#lengthAt} does. */
  @FunctionalInterface
  public interface Lane {

    /**
     * Returns what the lane says.
     *
     * @param modes the modes at its input
     * @param memory the bytes
     * @param offset where the lane's own byte is
     * @return a length, {@link LaneModel#NOT_HANDLED} or {@link LaneModel#ANYTHING}
     */
    int lengthAt(int modes, byte[] memory, int offset);
  }

  /**
   * A wrong length.
   *
   * @param map the last row's map
   * @param code the last row's opcode
   * @param bytes the bytes up to those that may decide, in hex
   * @param modes the modes at the lane's input
   * @param said what the lane says
   * @param truth the true length, or not positive as {@link GoldenModel#lengthAt} says
   */
  public record Lie(String map, int code, String bytes, int modes, int said, int truth) {
    /**
     * Checks for null.
     *
     * @param map see Lie
     * @param code see Lie
     * @param bytes see Lie
     * @param modes see Lie
     * @param said see Lie
     * @param truth see Lie
     */
    public Lie {
      Objects.requireNonNull(map, "map");
      Objects.requireNonNull(bytes, "bytes");
    }
  }

  /**
   * Copies the list.
   *
   * @param points see AccuracyCheck
   * @param lies see AccuracyCheck
   */
  public AccuracyCheck {
    lies = List.copyOf(lies);
  }

  /**
   * Compares the golden function of a lane with the truth.
   *
   * @param lane the lane
   * @return the result
   */
  public static AccuracyCheck of(Predecoder lane) {
    return of(lane, LaneModel.of(lane)::lengthAt);
  }

  /**
   * Compares anything that is to answer as a lane does with the truth.
   *
   * @param lane what is to be implemented; it says which prefixes are items of their own
   * @param answers what is said
   * @return the result
   */
  public static AccuracyCheck of(Predecoder lane, Lane answers) {
    return new Walk(lane, answers).result();
  }

  /**
   * Tells whether the lane says nothing but true lengths.
   *
   * @return true if there is no lie
   */
  public boolean isExact() {
    return lies.isEmpty();
  }

  /** The comparison. */
  private static final class Walk {

    private final Predecoder lane;
    private final Lane answers;
    private final GoldenModel truth;
    private final InstructionSet set;
    private final CodeUnit unit;
    private final byte[] memory = new byte[128];
    private final List<Lie> lies = new ArrayList<>();
    private long points;
    private final Map<OperandSpecifier, Samples> samples = new HashMap<>();
    private int initialModes;
    private boolean behindPrefix;

    Walk(Predecoder lane, Lane answers) {
      this.lane = lane;
      this.answers = answers;
      this.set = lane.instructionSet();
      this.truth = GoldenModel.of(set);
      this.unit = set.table().unit();
    }

    AccuracyCheck result() {
      for (initialModes = 0; initialModes < 1 << set.table().modes().size(); initialModes++) {
        walkPrefixes(0, initialModes, new HashSet<>());
      }
      return new AccuracyCheck(points, lies);
    }

    /** Walks all maps behind prefixes that the lane looks through, then adds one more prefix. */
    private void walkPrefixes(int count, int current, Set<Long> seen) {
      if (!seen.add((long) count << 32 | current)) {
        return;
      }
      int cursor = count * unit.bytes();
      behindPrefix = count > 0;
      walkMap(0, cursor);
      for (PrefixRules.Prefix prefix : set.prefixes().prefixes().values()) {
        Work.check();
        unit.write(prefix.code(), memory, cursor);
        for (int next = 0; next < 256; next++) {
          memory[cursor + unit.bytes()] = (byte) next;
          compare(0, prefix.code(), cursor + unit.bytes() + 1);
        }
        if (count < Math.min(lane.mostFolded(), lane.prefixes().get(prefix.code()).most())) {
          walkPrefixes(count + 1, prefix.apply(set.table().modes(), initialModes, current), seen);
        }
      }
    }

    private void walkMap(int map, int cursor) {
      OpcodeMap opcodes = set.table().maps().get(map);
      for (int code = 0; code < unit.codes(); code++) {
        if (map == 0 && set.prefixes().prefix(code).isPresent()) {
          continue;
        }
        unit.write(code, memory, cursor);
        Row row = opcodes.row(code);
        int next = cursor + unit.bytes();
        if (row instanceof Row.ByNextByte split) {
          Set<Row> followed = new HashSet<>();
          for (int value = 0; value < 256; value++) {
            memory[next] = (byte) value;
            Row leaf = split.row(value);
            if (!(leaf instanceof Row.Escape) || followed.add(leaf)) {
              walkLeaf(map, code, leaf, next, Optional.of(value));
            }
          }
        } else {
          walkLeaf(map, code, row, next, Optional.empty());
        }
      }
    }

    private void walkLeaf(int map, int code, Row row, int next, Optional<Integer> fixed) {
      if (row instanceof Row.Escape escape) {
        walkMap(set.table().mapIndex(escape.map()), next + escape.skip());
        return;
      }
      Samples samples =
          row instanceof Row.Instruction instruction && instruction.specifier().isPresent()
              ? this.samples.computeIfAbsent(
                  instruction.specifier().get(), s -> new Samples(s, set.table().modes()))
              : Samples.FEW;
      for (int value : fixed.isPresent() ? new int[] {fixed.get()} : samples.bytes(behindPrefix)) {
        Work.check();
        memory[next] = (byte) value;
        for (int second : samples.seconds(value, behindPrefix)) {
          memory[next + 1] = (byte) second;
          compare(map, code, next + 2);
        }
      }
    }

    private void compare(int map, int code, int end) {
      points++;
      int said = answers.lengthAt(initialModes, memory, 0);
      if (said == LaneModel.NOT_HANDLED) {
        return;
      }
      int expected = expected();
      boolean fits = said == LaneModel.ANYTHING ? expected <= 0 : said == expected;
      if (!fits && lies.size() < MOST_LIES) {
        lies.add(
            new Lie(
                set.table().maps().get(map).name(),
                code,
                HexFormat.of().formatHex(memory, 0, end),
                initialModes,
                said,
                expected));
      }
    }

    /** A prefix that is an item of its own is one unit long. */
    private int expected() {
      PrefixTreatment treatment = lane.prefixes().get(unit.read(memory, 0));
      return PrefixTreatment.ONE_UNIT_EACH.equals(treatment)
          ? unit.bytes()
          : truth.lengthAt(initialModes, memory, 0);
    }
  }

  /** The bytes of an operand specifier that are tried. */
  private static final class Samples {

    /** Bytes that stand for any where no row reads them. */
    private static final int[] ANY = {0x00, 0x24, 0xff};

    /** For rows without a specifier. */
    static final Samples FEW = new Samples();

    private final int[] all;
    private final int[] one;
    private final int[][] seconds = new int[256][];
    private final int[][] oneSecond = new int[256][];

    private Samples() {
      all = ANY;
      one = ANY;
      Arrays.fill(seconds, ANY);
      Arrays.fill(oneSecond, ANY);
    }

    Samples(OperandSpecifier specifier, List<String> modeNames) {
      all = IntStream.range(0, 256).toArray();
      Set<List<Integer>> known = new HashSet<>();
      List<Integer> first = new ArrayList<>();
      for (int value = 0; value < 256; value++) {
        Work.check();
        boolean reads = false;
        for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
          reads |= specifier.readsNext(value, modeNames, modes);
        }
        seconds[value] = reads ? all : ANY;
        oneSecond[value] = ANY;
        List<Integer> added = new ArrayList<>();
        Set<List<Integer>> knownSeconds = new HashSet<>();
        List<Integer> firstSeconds = new ArrayList<>();
        for (int next = 0; next < (reads ? 256 : 1); next++) {
          List<Integer> ofPair = new ArrayList<>();
          for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
            ofPair.add(specifier.added(value, next, modeNames, modes));
          }
          added.addAll(ofPair);
          if (knownSeconds.add(ofPair)) {
            firstSeconds.add(next);
          }
        }
        if (reads) {
          oneSecond[value] = firstSeconds.stream().mapToInt(Integer::intValue).toArray();
        }
        if (known.add(added)) {
          first.add(value);
        }
      }
      one = first.stream().mapToInt(Integer::intValue).toArray();
    }

    int[] bytes(boolean oneOfEach) {
      return oneOfEach ? one : all;
    }

    int[] seconds(int value, boolean oneOfEach) {
      return oneOfEach ? oneSecond[value] : seconds[value];
    }
  }
}

package dev.lengthwise.study.accuracy;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.LaneModel;
import dev.lengthwise.golden.Outcome;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.work.Work;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.BitSet;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.concurrent.ConcurrentHashMap;

/**
 * An instruction stream, prepared so that the accuracy of any lane on it is found in microseconds.
 *
 * <p>Instructions that no lane can tell apart are one class. Lanes that differ in the rows they
 * leave out alone share the work: what the rest of their restrictions does to each class is asked
 * once of {@link LaneModel} and kept. Safe for use by several threads.
 */
public final class AccuracyProfile {

  /** Bytes behind an instruction that a lane may see. */
  private static final int MARGIN = Predecoder.MOST_LOOKAHEAD + 1;

  private final CodeStream stream;
  private final InstructionSet set;
  private final int modes;
  private final List<InstructionClass> classes;
  private final long executed;
  private final long outside;
  private final long disagreeing;
  private final Map<LaneRestrictions, LaneAnswers> answers = new ConcurrentHashMap<>();

  private AccuracyProfile(
      CodeStream stream,
      ClassReader reader,
      List<InstructionClass> classes,
      long outside,
      long disagreeing) {
    this.stream = stream;
    this.set = reader.set();
    this.modes = reader.modes();
    this.classes = List.copyOf(classes);
    this.executed = classes.stream().mapToLong(InstructionClass::executed).sum();
    this.outside = outside;
    this.disagreeing = disagreeing;
  }

  /**
   * Prepares a stream.
   *
   * @param stream code and counts
   * @param truth the instruction set of the code
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @return the profile
   */
  public static AccuracyProfile of(CodeStream stream, GoldenModel truth, int modes) {
    ClassReader reader = new ClassReader(truth.instructionSet(), modes);
    Map<List<Integer>, InstructionClass> classes = new LinkedHashMap<>();
    TraceCounts counts = stream.counts();
    byte[] bytes = new byte[TraceCounts.LONGEST + MARGIN];
    long outside = 0;
    long disagreeing = 0;
    for (int i = 0; i < counts.distinct(); i++) {
      Work.check();
      int available = stream.image().read(counts.address(i), bytes);
      Arrays.fill(bytes, available, bytes.length, (byte) 0);
      int said = truth.lengthAt(modes, bytes, 0, available);
      int length = counts.length(i);
      if (available < length || Outcome.of(said) == Outcome.TOO_FEW_BYTES) {
        outside += counts.count(i);
        continue;
      }
      ClassReader.Reading reading = reader.read(bytes);
      if (said > 0 ? said != length : reading.prefixBytes() >= length) {
        disagreeing += counts.count(i);
        continue;
      }
      List<Integer> key = new ArrayList<>(reading.key());
      key.add(length);
      key.add(Math.min(0, said)); // why it is undefined
      classes
          .computeIfAbsent(
              key, k -> new InstructionClass(bytes.clone(), length, said > 0, reading.rows()))
          .add(counts.count(i), (int) ((long) i * InstructionClass.FOLDS / counts.distinct()));
    }
    return new AccuracyProfile(stream, reader, List.copyOf(classes.values()), outside, disagreeing);
  }

  /**
   * Returns the stream.
   *
   * @return the stream that was prepared
   */
  public CodeStream stream() {
    return stream;
  }

  /**
   * Returns the instructions that are judged.
   *
   * @return all but {@link #outside()} and {@link #disagreeing()}
   */
  public long executed() {
    return executed;
  }

  /**
   * Returns the instructions that are not judged because the image does not hold them whole.
   *
   * @return a count of executions
   */
  public long outside() {
    return outside;
  }

  /**
   * Returns the instructions that are not judged because the counts give them another length than
   * the instruction set, or one that ends in their prefixes: the image is another program's, the
   * modes are wrong, or the recorder counts something else as an instruction.
   *
   * @return a count of executions
   */
  public long disagreeing() {
    return disagreeing;
  }

  /**
   * Returns the classes of instructions that no lane can tell apart.
   *
   * @return their number
   */
  public int classes() {
    return classes.size();
  }

  /**
   * Returns the accuracy of a lane.
   *
   * @param lane a lane of the instruction set of this profile
   * @return its accuracy
   * @throws IllegalArgumentException if the lane is of another instruction set
   */
  public Accuracy accuracy(Predecoder lane) {
    LaneAnswers base = answers(lane);
    long[] leftOut = leftOut(lane);
    long exact = 0;
    long wrong = 0;
    Map<Accuracy.LossCause, Long> lost = new EnumMap<>(Accuracy.LossCause.class);
    for (int i = 0; i < classes.size(); i++) {
      InstructionClass instructions = classes.get(i);
      Optional<Accuracy.LossCause> cause =
          base.cause(i, leftOutRows(instructions, leftOut) > 0, instructions.isDefined());
      if (cause.isPresent()) {
        lost.merge(cause.get(), instructions.executed(), Long::sum);
      } else if (base.isExact(i)) {
        exact += instructions.executed();
      } else {
        wrong += instructions.executed();
      }
    }
    return new Accuracy(executed, exact, wrong, lost);
  }

  /**
   * Returns the instructions that a lane is exact for if it leaves out other rows than its own.
   *
   * @param leftOut the rows of all maps, map after map, as bits
   * @param lane the lane
   * @return instructions
   */
  public long exact(Predecoder lane, BitSet leftOut) {
    LaneAnswers base = answers(lane);
    int rows = set.table().maps().size() * set.table().unit().codes();
    long[] bits = Arrays.copyOf(leftOut.toLongArray(), rows / Long.SIZE);
    long exact = 0;
    for (int i = 0; i < classes.size(); i++) {
      InstructionClass instructions = classes.get(i);
      if (base.isExact(i) && leftOutRows(instructions, bits) == 0) {
        exact += instructions.executed();
      }
    }
    return exact;
  }

  /**
   * Returns the modes before the first prefix of each instruction.
   *
   * @return mode i is bit i
   */
  public int modes() {
    return modes;
  }

  /**
   * Returns the classes.
   *
   * @return the classes, in the order found
   */
  public List<InstructionClass> instructionClasses() {
    return classes;
  }

  /**
   * Returns what the classes weigh that a lane is exact for if it leaves out other rows than its
   * own.
   *
   * @param leftOut the rows of all maps, map after map, as bits
   * @param weights one of each class
   * @param lane the lane
   * @return the sum of the weights
   */
  public double exact(Predecoder lane, BitSet leftOut, double[] weights) {
    LaneAnswers base = answers(lane);
    int rows = set.table().maps().size() * set.table().unit().codes();
    long[] bits = Arrays.copyOf(leftOut.toLongArray(), rows / Long.SIZE);
    double exact = 0;
    for (int i = 0; i < classes.size(); i++) {
      if (base.isExact(i) && leftOutRows(classes.get(i), bits) == 0) {
        exact += weights[i];
      }
    }
    return exact;
  }

  /**
   * Returns the longest item, in bytes, that a lane is exact for with all rows; 0 if none.
   *
   * @param lane the lane
   * @return bytes
   */
  public int longestExact(Predecoder lane) {
    LaneAnswers base = answers(lane);
    int longest = 0;
    for (int i = 0; i < classes.size(); i++) {
      InstructionClass instructions = classes.get(i);
      if (base.isExact(i)) {
        int items = lane.mostFolded() > 0 ? 0 : prefixBytes(instructions.sample());
        longest = Math.max(longest, instructions.length() - items);
      }
    }
    return longest;
  }

  private int prefixBytes(byte[] sample) {
    int cursor = 0;
    while (set.prefixes().prefix(set.table().unit().read(sample, cursor)).isPresent()) {
      cursor += set.table().unit().bytes();
    }
    return cursor;
  }

  /**
   * Returns what each opcode that is on the way to an executed instruction has to do with the
   * accuracy of a lane. An instruction of a further map counts for each row on its way.
   *
   * @param lane a lane of the instruction set of this profile
   * @return the rows in the order of maps and opcodes
   * @throws IllegalArgumentException if the lane is of another instruction set
   */
  public List<OpcodeRow> rows(Predecoder lane) {
    LaneAnswers base = answers(lane);
    long[] leftOut = leftOut(lane);
    SortedMap<Integer, long[]> sums = new TreeMap<>(); // executed, exact, regained
    for (int i = 0; i < classes.size(); i++) {
      InstructionClass instructions = classes.get(i);
      int missing = leftOutRows(instructions, leftOut);
      boolean exactWithAll = base.isExact(i);
      for (int j = 0; j < instructions.rowCount(); j++) {
        int row = instructions.row(j);
        long[] sum = sums.computeIfAbsent(row, r -> new long[3]);
        sum[0] += instructions.executed();
        sum[1] += exactWithAll && missing == 0 ? instructions.executed() : 0;
        boolean regained = exactWithAll && missing == 1 && holds(leftOut, row);
        sum[2] += regained ? instructions.executed() : 0;
      }
    }
    List<OpcodeRow> rows = new ArrayList<>();
    int codes = set.table().unit().codes();
    sums.forEach(
        (row, sum) ->
            rows.add(
                new OpcodeRow(
                    set.table().maps().get(row / codes).name(),
                    row % codes,
                    sum[0],
                    sum[1],
                    holds(leftOut, row),
                    sum[2])));
    return List.copyOf(rows);
  }

  private LaneAnswers answers(Predecoder lane) {
    if (!lane.instructionSet().equals(set)) {
      throw new IllegalArgumentException(
          String.format(
              Locale.ROOT,
              "accuracy of %s: a lane of %s is expected, found one of %s",
              lane.name(),
              set.table().name(),
              lane.instructionSet().table().name()));
    }
    return answers.computeIfAbsent(
        LaneRestrictions.of(lane), base -> new LaneAnswers(lane, classes, modes));
  }

  /** Returns a bit for each row of each map: whether the lane leaves it out. */
  private long[] leftOut(Predecoder lane) {
    int codes = set.table().unit().codes();
    BitSet rows = new BitSet();
    for (Predecoder.LeftOut range : lane.leftOut()) {
      int first = set.table().mapIndex(range.map()) * codes;
      rows.set(first + range.from(), first + range.to() + 1);
    }
    return Arrays.copyOf(rows.toLongArray(), set.table().maps().size() * codes / Long.SIZE);
  }

  private static boolean holds(long[] rows, int row) {
    return (rows[row >> 6] >> row & 1) != 0;
  }

  private static int leftOutRows(InstructionClass instructions, long[] leftOut) {
    int count = 0;
    for (int i = 0; i < instructions.rowCount(); i++) {
      count += holds(leftOut, instructions.row(i)) ? 1 : 0;
    }
    return count;
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT, "%s: %d executed, %d classes", stream.name(), executed, classes.size());
  }

  /**
   * What one opcode has to do with the accuracy of a lane.
   *
   * @param map the opcode's map
   * @param code the opcode
   * @param executed the instructions on whose way the row lies
   * @param exact those whose length the lane says
   * @param leftOut whether the lane leaves the row out
   * @param regained the instructions that a lane that leaves out all but this row would handle, and
   *     this lane does not; 0 if the row is not left out
   */
  public record OpcodeRow(
      String map, int code, long executed, long exact, boolean leftOut, long regained) {
    /**
     * Checks for null.
     *
     * @param map see OpcodeRow
     * @param code see OpcodeRow
     * @param executed see OpcodeRow
     * @param exact see OpcodeRow
     * @param leftOut see OpcodeRow
     * @param regained see OpcodeRow
     */
    public OpcodeRow {
      Objects.requireNonNull(map, "map");
    }

    @Override
    public String toString() {
      return String.format(
          Locale.ROOT,
          "%s 0x%02x: %d executed, %d exact%s",
          map,
          code,
          executed,
          exact,
          leftOut ? ", left out, " + regained + " regained" : "");
    }
  }
}

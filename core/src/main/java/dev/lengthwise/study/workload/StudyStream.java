package dev.lengthwise.study.workload;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.stream.TraceReader;
import dev.lengthwise.stream.TraceSink;
import dev.lengthwise.study.accuracy.Accuracy;
import dev.lengthwise.study.accuracy.AccuracyProfile;
import dev.lengthwise.study.fetch.FetchModel;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.fetch.Throughput;
import dev.lengthwise.study.item.LaneItems;
import dev.lengthwise.study.make.ContentDigest;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.work.Work;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.Optional;

/**
 * The instructions that a program executes, ready to try lanes on: the {@link AccuracyProfile} of
 * all of them, and the order of the first {@value #MOST_ORDERED} if it is known.
 *
 * <p>Immutable but for what it remembers of lanes that were tried; safe for use by several threads.
 */
public final class StudyStream {

  /** The instructions whose order is kept, for throughput. */
  public static final int MOST_ORDERED = 1 << 24;

  /** Passes on instructions in the order of execution. */
  @FunctionalInterface
  public interface Order {

    /**
     * Passes on the instructions of a trace, or some stretches of it; where one stretch ends, a
     * branch to the next is taken.
     *
     * @param sink takes the instructions
     * @return how many there were
     * @throws IOException if they cannot be read
     */
    long replay(TraceSink sink) throws IOException;
  }

  private final AccuracyProfile profile;
  private final InstructionBytes bytes;
  private final Optional<InstructionRun> run;
  private final Optional<LinearSweep> sweep;
  private String make = ""; // found when it is asked for, as it reads all code

  private StudyStream(
      CodeStream stream,
      InstructionSet set,
      int modes,
      Optional<InstructionRun> run,
      Optional<LinearSweep> sweep) {
    this.profile = AccuracyProfile.of(stream, GoldenModel.of(set), modes);
    this.bytes = new InstructionBytes(stream, set, modes);
    this.run = run;
    this.sweep = sweep;
  }

  /**
   * Returns a stream whose order is not known, so that it has accuracy but no throughput.
   *
   * @param stream the code and its counts
   * @param set the instruction set
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @return the stream
   * @throws IllegalArgumentException if the image has the bytes of none of the instructions
   */
  public static StudyStream of(CodeStream stream, InstructionSet set, int modes) {
    return new StudyStream(stream, set, modes, Optional.empty(), Optional.empty());
  }

  /**
   * Returns a stream whose order is known.
   *
   * @param stream the code and its counts
   * @param set the instruction set
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param order passes on counted instructions, all or some
   * @return the stream
   * @throws IOException if the order cannot be read
   * @throws IllegalArgumentException if the image has the bytes of none of the instructions
   * @throws IllegalStateException if an instruction was not counted
   */
  public static StudyStream of(CodeStream stream, InstructionSet set, int modes, Order order)
      throws IOException {
    InstructionRun run = new InstructionRun(stream.counts(), MOST_ORDERED);
    order.replay(run);
    return new StudyStream(stream, set, modes, Optional.of(run), Optional.empty());
  }

  /**
   * Reads a trace, twice: once to count, once for the order.
   *
   * @param name its name in tables
   * @param set the instruction set
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param image has the bytes
   * @param trace a file as {@link TraceReader} reads it, not a pipe
   * @return the stream
   * @throws IOException if the file cannot be read or is no such trace
   * @throws IllegalArgumentException if the image has the bytes of none of the instructions
   */
  public static StudyStream ofTrace(
      String name, InstructionSet set, int modes, CodeImage image, Path trace) throws IOException {
    Objects.requireNonNull(name, "name");
    Objects.requireNonNull(set, "set");
    Objects.requireNonNull(image, "image");
    CodeStream stream = new CodeStream(name, image, TraceCounts.ofTrace(trace));
    return of(stream, set, modes, sink -> TraceReader.read(trace, sink));
  }

  /**
   * Returns a stream that executes an image once from its first byte to its last, as {@link
   * LinearSweep} finds the instructions.
   *
   * @param name its name in tables
   * @param set the instruction set
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param image the code
   * @return the stream
   * @throws IllegalArgumentException if the image has no instruction
   */
  public static StudyStream ofImage(String name, InstructionSet set, int modes, CodeImage image) {
    LinearSweep sweep = LinearSweep.of(GoldenModel.of(set), image, modes);
    TraceCounts counts = sweep.counts();
    InstructionRun run = new InstructionRun(counts, MOST_ORDERED);
    for (int i = 0; i < counts.distinct(); i++) {
      run.instruction(counts.address(i), counts.length(i));
    }
    return new StudyStream(
        new CodeStream(name, image, counts), set, modes, Optional.of(run), Optional.of(sweep));
  }

  /**
   * Returns the stream's name.
   *
   * @return its name in tables
   */
  public String name() {
    return profile.stream().name();
  }

  /**
   * Returns the instruction set.
   *
   * @return the set that lanes must be made for
   */
  public InstructionSet instructionSet() {
    return bytes.set();
  }

  /**
   * Returns what decides how accurate a lane is.
   *
   * @return the profile of all instructions
   */
  public AccuracyProfile profile() {
    return profile;
  }

  /**
   * Returns what was passed over, if an image was taken for code from end to end.
   *
   * @return the sweep; empty if the instructions are those of a trace
   */
  public Optional<LinearSweep> sweep() {
    return sweep;
  }

  /**
   * Returns what tells this stream from others of its name.
   *
   * @return a digest of its code
   */
  public synchronized String make() {
    if (make.isEmpty()) {
      ContentDigest code = new ContentDigest();
      for (CodeImage.Section section : profile.stream().image().sections()) {
        code.add(section.address()).add(section.code());
      }
      TraceCounts counts = profile.stream().counts();
      ContentDigest trace = new ContentDigest();
      for (int i = 0; i < counts.distinct(); i++) {
        trace.add(counts.address(i)).add((long) counts.length(i)).add(counts.count(i));
      }
      run.ifPresent(order -> order.addTo(trace));
      List<String> modes = new ArrayList<>();
      for (int i = 0; i < instructionSet().table().modes().size(); i++) {
        if ((profile.modes() >> i & 1) == 1) {
          modes.add(instructionSet().table().modes().get(i));
        }
      }
      make =
          "code="
              + code.text()
              + " modes="
              + (modes.isEmpty() ? "none" : String.join("+", modes))
              + (run.isPresent() ? " trace=" : " trace=unordered:")
              + trace.text();
    }
    return make;
  }

  /**
   * Tells whether the order is known, so that there is a throughput.
   *
   * @return true if so
   */
  public boolean isOrdered() {
    return run.isPresent();
  }

  /**
   * Returns the accuracy of a lane.
   *
   * @param lane the lane
   * @return as {@link AccuracyProfile#accuracy}
   * @throws IllegalArgumentException if the lane is of another instruction set
   */
  public Accuracy accuracy(Predecoder lane) {
    return profile.accuracy(lane);
  }

  /**
   * Runs the instructions, in their order, through a front end with a lane. An instruction is
   * handled if the lane says its exact length; those that the image does not hold are passed over.
   *
   * @param lane the lane
   * @param frontEnd the front end
   * @return instructions per cycle, of the first {@value #MOST_ORDERED} instructions
   * @throws IllegalArgumentException if the lane is of another instruction set, or the front end's
   *     queue or addresses are too small for an instruction
   * @throws IllegalStateException if the order is not known
   */
  public Throughput throughput(Predecoder lane, FrontEnd frontEnd) {
    Objects.requireNonNull(lane, "lane");
    Objects.requireNonNull(frontEnd, "frontEnd");
    if (run.isEmpty()) {
      throw new IllegalStateException(
          "stream " + name() + ": an order is needed for throughput, found counts alone");
    }
    byte[] items = bytes.items(lane);
    FetchModel model = FetchModel.of(frontEnd, bytes.set().table().unit());
    InstructionRun order = run.get();
    for (int i = 0; i < order.size(); i++) {
      Work.check();
      int place = bytes.known(order.place(i));
      if (place >= 0) {
        byte split = items[place];
        model.instruction(
            bytes.address(place),
            bytes.length(place),
            LaneItems.prefixItems(split),
            LaneItems.isExact(split));
      }
    }
    return model.finish();
  }

  @Override
  public String toString() {
    return profile.toString();
  }
}

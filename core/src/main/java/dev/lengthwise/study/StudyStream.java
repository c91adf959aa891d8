package dev.lengthwise.study;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeSection;
import dev.lengthwise.stream.TraceCounter;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.stream.TraceReader;
import dev.lengthwise.stream.TraceSink;
import dev.lengthwise.table.InstructionSet;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Objects;
import java.util.Optional;

/**
 * The instructions that a program executes, ready to try variants of lanes on: each distinct
 * instruction once, with its bytes and how often it is executed, and the order of the first {@value
 * #MOST_ORDERED} if it is known.
 *
 * <p>Immutable but for what it remembers of lanes that were tried; safe for use by several threads.
 */
public final class StudyStream {

  /** The instructions whose order is kept, for throughput. */
  public static final int MOST_ORDERED = 1 << 24;

  private final String name;
  private final InstructionBytes bytes;
  private final Optional<InstructionRun> run;
  private final StreamAnswers answers;

  private StudyStream(String name, InstructionBytes bytes, Optional<InstructionRun> run) {
    this.name = Objects.requireNonNull(name, "name");
    this.bytes = bytes;
    this.run = run;
    this.answers = new StreamAnswers(bytes);
  }

  /**
   * Returns a stream whose order is not known, so that it has shares but no throughput.
   *
   * @param name its name in tables
   * @param set the instruction set
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param image has the bytes
   * @param counts the instructions
   * @return the stream
   * @throws IllegalArgumentException if the image has the bytes of none of the instructions
   */
  public static StudyStream of(
      String name, InstructionSet set, int modes, CodeImage image, TraceCounts counts) {
    return new StudyStream(
        name, InstructionBytes.of(name, set, modes, image, counts), Optional.empty());
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
    TraceCounts counts = TraceCounts.ofTrace(trace);
    InstructionBytes bytes = InstructionBytes.of(name, set, modes, image, counts);
    InstructionRun run = new InstructionRun(counts, MOST_ORDERED);
    TraceReader.read(trace, run);
    return new StudyStream(name, bytes, Optional.of(run));
  }

  /**
   * Returns a stream that executes an image once from its first byte to its last: each instruction
   * where the one before it ends, a byte passed over where none starts.
   *
   * @param name its name in tables
   * @param set the instruction set
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @param image the code
   * @return the stream
   * @throws IllegalArgumentException if the image has no instruction
   */
  public static StudyStream ofImage(String name, InstructionSet set, int modes, CodeImage image) {
    GoldenModel truth = GoldenModel.of(set);
    TraceCounter counter = new TraceCounter();
    walk(image, truth, modes, counter);
    TraceCounts counts = counter.counts();
    InstructionRun run = new InstructionRun(counts, MOST_ORDERED);
    walk(image, truth, modes, run);
    return new StudyStream(
        name, InstructionBytes.of(name, set, modes, image, counts), Optional.of(run));
  }

  private static void walk(CodeImage image, GoldenModel truth, int modes, TraceSink sink) {
    for (CodeSection section : image.sections()) {
      byte[] code = section.code();
      int offset = 0;
      while (offset < code.length) {
        int length = truth.lengthAt(code, offset, modes);
        if (length > 0) {
          sink.instruction(section.address() + offset, length);
        }
        offset += Math.max(1, length);
      }
    }
  }

  /**
   * Returns the stream's name.
   *
   * @return its name in tables
   */
  public String name() {
    return name;
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
   * Returns the instructions executed, without those that the image has no bytes of.
   *
   * @return at least 1
   */
  public long instructions() {
    return bytes.instructions();
  }

  /**
   * Returns the instructions executed that the image has no bytes of; nothing else counts them.
   *
   * @return at least 0
   */
  public long unknown() {
    return bytes.unknown();
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
   * Returns what a lane says of the instructions.
   *
   * @param lane the lane
   * @return shares of the executed instructions
   * @throws IllegalArgumentException if the lane is of another instruction set
   */
  public LaneShares shares(Predecoder lane) {
    byte[] items = answers.of(lane);
    long handled = 0;
    long exact = 0;
    for (int i = 0; i < items.length; i++) {
      handled += LaneItems.isHandled(items[i]) ? bytes.count(i) : 0;
      exact += LaneItems.isExact(items[i]) ? bytes.count(i) : 0;
    }
    return new LaneShares(bytes.instructions(), handled, exact);
  }

  /**
   * Runs the instructions, in their order, through a front end with a lane. An instruction is
   * handled if the lane says its exact length.
   *
   * @param lane the lane
   * @param frontEnd the front end
   * @return instructions per cycle, of the first {@value #MOST_ORDERED} instructions
   * @throws IllegalArgumentException if the lane is of another instruction set, or the front end's
   *     queue or addresses are too small for an instruction
   * @throws IllegalStateException if the order is not known
   */
  public Throughput throughput(Predecoder lane, FrontEnd frontEnd) {
    if (run.isEmpty()) {
      throw new IllegalStateException(
          "stream " + name + ": an order is needed for throughput, found counts alone");
    }
    byte[] items = answers.of(lane);
    FetchModel model = FetchModel.of(frontEnd, bytes.set().table().unit());
    InstructionRun order = run.get();
    for (int i = 0; i < order.size(); i++) {
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

  /** Returns what the stream knows of lanes, for searches. */
  StreamAnswers answers() {
    return answers;
  }

  @Override
  public String toString() {
    return "stream " + name + ", " + instructions() + " instructions";
  }
}

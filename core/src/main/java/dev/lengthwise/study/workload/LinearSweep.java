package dev.lengthwise.study.workload;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.work.Work;
import java.util.Locale;
import java.util.Objects;

/**
 * The instructions of an image as they stand, each counted once, for want of a trace.
 *
 * <p>A sweep takes data between functions for code, and says nothing of what runs often.
 *
 * @param counts a count of 1 for each instruction
 * @param bytes the bytes of code
 * @param skipped the bytes that were passed over because no instruction starts there
 * @param stretches the stretches of such bytes
 */
public record LinearSweep(TraceCounts counts, long bytes, long skipped, long stretches) {
  /**
   * Checks for null.
   *
   * @param counts see LinearSweep
   * @param bytes see LinearSweep
   * @param skipped see LinearSweep
   * @param stretches see LinearSweep
   */
  public LinearSweep {
    Objects.requireNonNull(counts, "counts");
  }

  /**
   * Walks each section from its start, one instruction behind the other; a byte where none is
   * defined is passed over.
   *
   * @param truth the instruction set
   * @param image the code
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @return the instructions, and what was passed over
   * @throws IllegalStateException if there are more than {@value TraceCounts#MOST_DISTINCT}
   */
  public static LinearSweep of(GoldenModel truth, CodeImage image, int modes) {
    TraceCounts.Counter counter = new TraceCounts.Counter();
    long skipped = 0;
    long stretches = 0;
    for (CodeImage.Section section : image.sections()) {
      byte[] code = section.code();
      int offset = 0;
      boolean skipping = false;
      while (offset < code.length) {
        Work.check();
        int length = truth.lengthAt(modes, code, offset);
        if (length > 0) {
          counter.instruction(section.address() + offset, length);
        } else {
          skipped++;
          stretches += skipping ? 0 : 1;
        }
        skipping = length <= 0;
        offset += Math.max(1, length);
      }
    }
    return new LinearSweep(counter.counts(), image.size(), skipped, stretches);
  }

  /**
   * Says in one line what was passed over.
   *
   * @return bytes, their share and the stretches they are in
   */
  public String skippedText() {
    return String.format(
        Locale.ROOT,
        "%d of %d bytes of code (%.2f%%) skipped in %d stretches where no instruction starts",
        skipped,
        bytes,
        100.0 * skipped / Math.max(1, bytes),
        stretches);
  }
}

package dev.lengthwise.study;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.stream.CodeSection;
import dev.lengthwise.stream.TraceCounter;
import dev.lengthwise.stream.TraceCounts;
import dev.lengthwise.work.Work;

/**
 * The instructions of an image as they stand, each counted once, for want of a trace.
 *
 * <p>A sweep takes data between functions for code, and says nothing of what runs often.
 */
public final class LinearSweep {

  private LinearSweep() {}

  /**
   * Walks each section from its start, one instruction behind the other; a byte where none is
   * defined is passed over.
   *
   * @param truth the instruction set
   * @param image the code
   * @param modes the modes before the first prefix of each instruction; mode i is bit i
   * @return a count of 1 for each instruction
   * @throws IllegalStateException if there are more than {@value TraceCounts#MOST_DISTINCT}
   */
  public static TraceCounts of(GoldenModel truth, CodeImage image, int modes) {
    TraceCounter counter = new TraceCounter();
    for (CodeSection section : image.sections()) {
      byte[] code = section.code();
      int offset = 0;
      while (offset < code.length) {
        Work.check();
        int length = truth.lengthAt(code, offset, modes);
        if (length > 0) {
          counter.instruction(section.address() + offset, length);
        }
        offset += Math.max(1, length);
      }
    }
    return counter.counts();
  }
}

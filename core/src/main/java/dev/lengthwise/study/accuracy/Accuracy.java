package dev.lengthwise.study.accuracy;

import java.util.Collections;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Collectors;

/**
 * How much of an instruction stream a lane handles, every instruction counted as often as it was
 * executed. Prefixes that the lane takes as items of their own are parts of their instruction,
 * which is handled if all its items are.
 *
 * @param executed all instructions that were judged
 * @param exact those whose length the lane says
 * @param wrong those for which it says a length that is not the truth; of a lane whose undefined
 *     rows may say anything, those that the instruction set does not define
 * @param lost those that it does not handle, by cause; a cause without any is missing
 */
public record Accuracy(long executed, long exact, long wrong, Map<LossCause, Long> lost) {

  /**
   * Copies the map, in the order of the causes.
   *
   * @param executed see Accuracy
   * @param exact see Accuracy
   * @param wrong see Accuracy
   * @param lost see Accuracy
   */
  public Accuracy {
    EnumMap<LossCause, Long> copy = new EnumMap<>(LossCause.class);
    copy.putAll(lost);
    copy.values().removeIf(count -> count == 0);
    lost = Collections.unmodifiableMap(copy);
  }

  /**
   * Returns the instructions that the lane does not handle.
   *
   * @param cause the cause
   * @return a count
   */
  public long lost(LossCause cause) {
    Objects.requireNonNull(cause, "cause");
    return lost.getOrDefault(cause, 0L);
  }

  /**
   * Returns the share of the instructions for which the lane says a length.
   *
   * @return in [0, 1]; 0 if none was executed
   */
  public double handledShare() {
    return share(exact + wrong);
  }

  /**
   * Returns the share of the instructions for which the lane says the true length.
   *
   * @return in [0, 1]; 0 if none was executed
   */
  public double exactShare() {
    return share(exact);
  }

  private double share(long count) {
    return executed == 0 ? 0 : (double) count / executed;
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT,
        "%d executed, %.3f%% exact, %d wrong, lost %s",
        executed,
        100 * exactShare(),
        wrong,
        lost.entrySet().stream()
            .map(e -> e.getKey().name().toLowerCase(Locale.ROOT) + ' ' + e.getValue())
            .collect(Collectors.joining(", ", "[", "]")));
  }

  /**
   * Why a lane does not handle an instruction.
   *
   * <p>The restrictions of a lane are applied one after the other in the order given here, from a
   * lane without any; the cause is the first with which the instruction is not handled. So each
   * instruction has one cause, and the causes sum to what is lost.
   */
  public enum LossCause {
    /** The instruction set defines no such instruction. */
    UNDEFINED,
    /** The treatment of prefixes. */
    PREFIX,
    /** A row on the way to the instruction is left to the slow path. */
    LEFT_OUT,
    /** The bytes after the opcode are not followed far enough. */
    OPERAND_BYTES,
    /** A byte that decides is not seen. */
    LOOKAHEAD,
    /** The instruction is longer than what the lane says. */
    LENGTH_LIMIT
  }
}

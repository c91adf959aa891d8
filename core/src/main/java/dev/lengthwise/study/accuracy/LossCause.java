package dev.lengthwise.study.accuracy;

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

package dev.lengthwise.predecode;

/** What a lane says where the instruction set defines no opcode. */
public enum UndefinedRows {
  /** The lane says "not handled", so that the slow path sees every undefined opcode. */
  NOT_HANDLED,
  /** The lane says anything: no length is right or wrong there, and the circuit is smaller. */
  ANYTHING
}

package dev.lengthwise.study;

import java.util.List;

/** Executed instructions that no lane can tell apart. */
final class InstructionClass {

  private final byte[] sample;
  private final int length;
  private final boolean defined;
  private final int[] rows;
  private long executed;
  private int distinct;

  /**
   * Takes bytes that nobody else keeps: one of the instructions, and some behind it.
   *
   * @param length its length
   * @param defined whether the instruction set defines it
   */
  InstructionClass(byte[] sample, int length, boolean defined, List<Integer> rows) {
    this.sample = sample;
    this.length = length;
    this.defined = defined;
    this.rows = rows.stream().mapToInt(Integer::intValue).toArray();
  }

  void add(long count) {
    executed = Math.addExact(executed, count);
    distinct++;
  }

  byte[] sample() {
    return sample;
  }

  int length() {
    return length;
  }

  boolean isDefined() {
    return defined;
  }

  int rowCount() {
    return rows.length;
  }

  /** Returns a row on the way to the instruction; see {@link ClassReader.Reading}. */
  int row(int index) {
    return rows[index];
  }

  long executed() {
    return executed;
  }

  int distinct() {
    return distinct;
  }
}

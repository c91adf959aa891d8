package dev.lengthwise.study.accuracy;

import java.util.List;

/** Executed instructions that no lane can tell apart. */
public final class InstructionClass {

  /** The stretches of code, one behind the other, that are counted apart. */
  public static final int FOLDS = 5;

  private final byte[] sample;
  private final int length;
  private final boolean defined;
  private final int[] rows;
  private final long[] executedInFold = new long[FOLDS];
  private final int[] distinctInFold = new int[FOLDS];
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

  /** Adds a distinct instruction of a stretch of code, in [0, {@value #FOLDS}). */
  void add(long count, int fold) {
    executed = Math.addExact(executed, count);
    executedInFold[fold] += count;
    distinct++;
    distinctInFold[fold]++;
  }

  byte[] sample() {
    return sample;
  }

  int length() {
    return length;
  }

  /**
   * Tells whether the truth gives its instructions a length.
   *
   * @return false if they are undefined
   */
  public boolean isDefined() {
    return defined;
  }

  int rowCount() {
    return rows.length;
  }

  /** Returns a row on the way to the instruction; see {@link ClassReader.Reading}. */
  int row(int index) {
    return rows[index];
  }

  /**
   * Returns the row that gives the length.
   *
   * @return its number
   */
  public int lastRow() {
    return rows[rows.length - 1];
  }

  /**
   * Returns how often its instructions were executed.
   *
   * @return executions
   */
  public long executed() {
    return executed;
  }

  /**
   * Returns how often those of a fold were executed.
   *
   * @param fold in [0, {@value #FOLDS})
   * @return executions
   */
  public long executed(int fold) {
    return executedInFold[fold];
  }

  /**
   * Returns how many of its instructions differ.
   *
   * @return instructions
   */
  public int distinct() {
    return distinct;
  }

  /**
   * Returns how many of those of a fold differ.
   *
   * @param fold in [0, {@value #FOLDS})
   * @return instructions
   */
  public int distinct(int fold) {
    return distinctInFold[fold];
  }
}

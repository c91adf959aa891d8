package dev.lengthwise.stream;

/** Takes the instructions of a trace, one after the other, in the order of execution. */
@FunctionalInterface
public interface TraceSink {

  /**
   * Takes the next instruction executed.
   *
   * @param address the address of its first byte, prefixes counted
   * @param length its length in bytes, in [1, 63]
   */
  void instruction(long address, int length);
}

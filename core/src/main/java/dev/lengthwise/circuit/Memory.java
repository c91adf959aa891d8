package dev.lengthwise.circuit;

import dev.lengthwise.name.HdlName;
import java.util.Objects;

/**
 * A memory of a block: one write port, any number of read ports.
 *
 * @param name a legal name
 * @param kind how its reads are timed, and so what it is made of
 * @param depth words, a power of two in [2, 65536]
 * @param width bits of a word, in [1, {@value Node#MOST_WIDTH}]
 * @param lanes the parts of a word that have write enables of their own; divides the width
 */
public record Memory(String name, Kind kind, int depth, int width, int lanes) {

  /** How the reads of a memory are timed. */
  public enum Kind {
    /**
     * Block RAM: an address given in a cycle yields its word in the next one. A word that is read
     * in the cycle that writes a part of it is not defined: devices differ in what comes out, and
     * to force either word on them takes registers and LUTs beside the RAM.
     */
    BLOCK,
    /** Distributed RAM: the word follows the address in the same cycle. */
    DISTRIBUTED,
    /**
     * Registers: the word follows the address in the same cycle, and one signal clears all words,
     * as the circuit's reset does.
     */
    REGISTERS
  }

  /**
   * Checks the shape.
   *
   * @param name see Memory
   * @param kind see Memory
   * @param depth see Memory
   * @param width see Memory
   * @param lanes see Memory
   * @throws IllegalArgumentException if the name is not legal or the shape out of range
   */
  public Memory {
    HdlName.requireMade("memory", name);
    Objects.requireNonNull(kind, "kind");
    Node.checkWidth("memory " + name, width);
    if (Integer.bitCount(depth) != 1 || depth < 2 || depth > 65536) {
      throw new IllegalArgumentException(
          "memory " + name + ": the depth must be a power of two in [2, 65536], found " + depth);
    }
    if (lanes < 1 || width % lanes != 0) {
      throw new IllegalArgumentException(
          "memory " + name + ": write lanes must divide the width " + width + ", found " + lanes);
    }
  }

  /**
   * Returns the width of an address.
   *
   * @return bits
   */
  public int addressBits() {
    return Integer.numberOfTrailingZeros(depth);
  }
}

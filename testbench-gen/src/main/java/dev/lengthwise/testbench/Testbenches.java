package dev.lengthwise.testbench;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.DesignOutput;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.List;

/**
 * Prints self-checking benches in both languages and the golden vectors that they read.
 *
 * <p>Files: {@code bench/verilog/<design>_tb.v}, {@code bench/vhdl/<design>_tb.vhd} and {@code
 * bench/vectors/<design>.hex}.
 */
public final class Testbenches implements DesignOutput {

  private final int random;
  private final long seed;
  private final int step;

  /** Creates the back end with {@link LaneVectors#RANDOM} random vectors of seed 1. */
  public Testbenches() {
    this(LaneVectors.RANDOM, 1);
  }

  /**
   * Creates the back end.
   *
   * @param random the number of random vectors, at least 0; for a row of lanes, of cycles of random
   *     code
   * @param seed the seed of all random choices
   */
  public Testbenches(int random, long seed) {
    this(random, seed, 1);
  }

  private Testbenches(int random, long seed, int step) {
    this.random = random;
    this.seed = seed;
    this.step = step;
  }

  /**
   * Returns the back end with a share of the vectors, for simulators that take too long for all.
   *
   * @param every see {@link LaneVectors#every}
   * @return a new back end
   */
  public Testbenches every(int every) {
    return new Testbenches(random, seed, every);
  }

  @Override
  public List<OutputFile> files(Design design) {
    if (design.array().isPresent()) {
      return rowFiles(design);
    }
    LaneVectors vectors = LaneVectors.of(design.lane(), random, seed).every(step);
    return List.of(
        new OutputFile("bench/vectors/" + design.name() + ".hex", vectors.hex()),
        new OutputFile(
            "bench/verilog/" + design.name() + "_tb.v", VerilogLaneBench.text(design, vectors)),
        new OutputFile(
            "bench/vhdl/" + design.name() + "_tb.vhd", VhdlLaneBench.text(design, vectors)));
  }

  private List<OutputFile> rowFiles(Design design) {
    StringBuilder vectors = new StringBuilder();
    try {
      ArrayVectors.random(design.array().orElseThrow(), Math.max(1, random / step), seed)
          .writeTo(vectors);
    } catch (IOException e) {
      throw new UncheckedIOException("a string builder takes all text", e);
    }
    return List.of(
        new OutputFile("bench/vectors/" + design.name() + ".hex", vectors.toString()),
        new OutputFile("bench/verilog/" + design.name() + "_tb.v", VerilogArrayBench.text(design)),
        new OutputFile("bench/vhdl/" + design.name() + "_tb.vhd", VhdlArrayBench.text(design)));
  }
}

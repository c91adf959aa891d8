package dev.lengthwise.testbench;

import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.DesignOutput;
import dev.lengthwise.testbench.bench.VerilogCycleBench;
import dev.lengthwise.testbench.bench.VerilogLaneBench;
import dev.lengthwise.testbench.bench.VhdlCycleBench;
import dev.lengthwise.testbench.bench.VhdlLaneBench;
import dev.lengthwise.testbench.cycle.ArrayFields;
import dev.lengthwise.testbench.cycle.CycleFields;
import dev.lengthwise.testbench.cycle.FetchFields;
import dev.lengthwise.testbench.vector.ArrayVectors;
import dev.lengthwise.testbench.vector.FetchVectors;
import dev.lengthwise.testbench.vector.LaneVectors;
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
   * @param random the number of random vectors, at least 0; for a row of lanes or a fetch unit, of
   *     cycles of random code
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
  public Testbenches withEvery(int every) {
    return new Testbenches(random, seed, every);
  }

  @Override
  public List<OutputFile> files(Design design) {
    if (design.unit().isPresent()) {
      FetchUnit unit = design.unit().orElseThrow();
      return cycleFiles(
          design.name(),
          new FetchFields(unit),
          FetchVectors.random(unit, Math.max(1, random / step), seed)::writeTo);
    }
    if (design.array().isPresent()) {
      LaneArray row = design.array().orElseThrow();
      return cycleFiles(
          design.name(),
          new ArrayFields(row),
          ArrayVectors.random(row, Math.max(1, random / step), seed)::writeTo);
    }
    LaneVectors vectors = LaneVectors.of(design.lane(), random, seed).every(step);
    return List.of(
        new OutputFile("bench/vectors/" + design.name() + ".hex", vectors.hex()),
        new OutputFile(
            "bench/verilog/" + design.name() + "_tb.v", VerilogLaneBench.text(design, vectors)),
        new OutputFile(
            "bench/vhdl/" + design.name() + "_tb.vhd", VhdlLaneBench.text(design, vectors)));
  }

  /** What writes vectors. */
  private interface Writer {
    void writeTo(Appendable text) throws IOException;
  }

  private static List<OutputFile> cycleFiles(String name, CycleFields fields, Writer writer) {
    StringBuilder vectors = new StringBuilder();
    try {
      writer.writeTo(vectors);
    } catch (IOException e) {
      throw new UncheckedIOException("a string builder takes all text", e);
    }
    return List.of(
        new OutputFile("bench/vectors/" + name + ".hex", vectors.toString()),
        new OutputFile("bench/verilog/" + name + "_tb.v", VerilogCycleBench.text(name, fields)),
        new OutputFile("bench/vhdl/" + name + "_tb.vhd", VhdlCycleBench.text(name, fields)));
  }
}

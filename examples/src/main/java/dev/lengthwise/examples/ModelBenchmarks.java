package dev.lengthwise.examples;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.CacheModel;
import dev.lengthwise.cache.Replacement;
import dev.lengthwise.examples.set.FetchRow;
import dev.lengthwise.golden.ArrayModel;
import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.NamedSet;
import java.util.Random;
import org.openjdk.jmh.annotations.Benchmark;
import org.openjdk.jmh.annotations.BenchmarkMode;
import org.openjdk.jmh.annotations.Mode;
import org.openjdk.jmh.annotations.OperationsPerInvocation;
import org.openjdk.jmh.annotations.Param;
import org.openjdk.jmh.annotations.Scope;
import org.openjdk.jmh.annotations.Setup;
import org.openjdk.jmh.annotations.State;

/** Benchmarks of the software models, on one thread; a benchmark's score is operations a second. */
@BenchmarkMode(Mode.Throughput)
public class ModelBenchmarks {

  /** The operations of one call. */
  private static final int CALLS = 1 << 16;

  /** Makes the benchmarks. */
  public ModelBenchmarks() {}

  /**
   * A cache of 16 KiB, 4 ways and lines of 32 bytes, and addresses with jumps, as code has them.
   */
  @State(Scope.Benchmark)
  public static class Cache {

    /** The name of the replacement. */
    @Param({"LRU", "TREE_PLRU", "FIFO", "RANDOM"})
    public String replacement;

    private final long[] addresses = new long[CALLS];
    private CacheModel model;

    /** Makes the state. */
    public Cache() {}

    /** Makes the model and the addresses: windows of 16 bytes, a jump after every eighth. */
    @Setup
    public void make() {
      model =
          CacheModel.of(
              CacheGeometry.builder(16384).ways(4).lineBytes(32).windowBytes(16).build(),
              Replacement.valueOf(replacement));
      Random random = new Random(1);
      long address = 0;
      for (int i = 0; i < CALLS; i++) {
        addresses[i] = address;
        address = i % 8 == 7 ? random.nextInt(1 << 16) & ~15 : address + 16;
      }
    }
  }

  /** Code at random of an instruction set, and its models. */
  @State(Scope.Benchmark)
  public static class Code {

    /** The name of the instruction set. */
    @Param("tidegate")
    public String set;

    private final byte[] bytes = new byte[CALLS + 64];
    private GoldenModel golden;
    private ArrayModel row;

    /** Makes the state. */
    public Code() {}

    /** Makes the models and the bytes. */
    @Setup
    public void make() {
      new Random(1).nextBytes(bytes);
      NamedSet named = NamedSet.of(set);
      golden = GoldenModel.of(named.instructionSet());
      row = ArrayModel.of(FetchRow.of(named.lane()));
    }
  }

  /**
   * Accesses of the cache model.
   *
   * @param cache the state
   * @return the hits
   */
  @Benchmark
  @OperationsPerInvocation(CALLS)
  public int cacheAccesses(Cache cache) {
    int hits = 0;
    for (long address : cache.addresses) {
      hits += cache.model.access(address) ? 1 : 0;
    }
    return hits;
  }

  /**
   * Lengths at every byte, by the golden model.
   *
   * @param code the state
   * @return the sum of the lengths
   */
  @Benchmark
  @OperationsPerInvocation(CALLS)
  public int goldenLengths(Code code) {
    int sum = 0;
    for (int i = 0; i < CALLS; i++) {
      sum += code.golden.lengthAt(0, code.bytes, i);
    }
    return sum;
  }

  /**
   * Windows of the fetch row, by its golden function; every eighth is the target of a redirect.
   *
   * @param code the state
   * @return the start marks of all windows, joined
   */
  @Benchmark
  @OperationsPerInvocation(CALLS / 16)
  public int rowWindows(Code code) {
    int window = code.row.array().windowBytes();
    int joined = 0;
    for (int i = 0; i < CALLS / 16; i++) {
      code.row.step(0, code.bytes, i * window % CALLS, i % 8 == 0 ? 0 : ArrayModel.NONE);
      joined ^= code.row.starts();
    }
    return joined;
  }
}

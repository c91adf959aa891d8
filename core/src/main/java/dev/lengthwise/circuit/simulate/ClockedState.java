package dev.lengthwise.circuit.simulate;

import dev.lengthwise.circuit.Memory;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/**
 * The registers and memories of a flattened circuit.
 *
 * <p>A clock edge first collects every next value from the old words, then stores them, so the
 * order of registers does not matter. A read at the edge that writes its word, which hardware does
 * not define, gets the old word with every bit inverted: what a circuit does with it shows.
 */
final class ClockedState {

  /** The place of a signal that is not there. */
  static final int ABSENT = -1;

  /** A register or the output of a synchronous read; all but the number of words are places. */
  private sealed interface Latched {
    int target();

    int words();

    /** The enable bit, or ABSENT for every edge. */
    int enable();
  }

  private record Register(int target, int words, int next, int enable, int resetValue)
      implements Latched {}

  private record Read(int target, int words, int address, int enable, int memory)
      implements Latched {}

  /** The places of the signals of a write port; that of its clear is ABSENT if there is none. */
  record WritePort(int enable, int address, int data, int clear) {}

  private record Write(int memory, Memory shape, int laneMasks, WritePort port, boolean isReset) {}

  private final List<long[]> memories;
  private final List<Register> registers = new ArrayList<>();
  private final List<Read> reads = new ArrayList<>();
  private final List<Write> writes = new ArrayList<>();
  private long[] next = new long[0];

  /** Starts without state. The memories may still be added to while reads and writes are. */
  ClockedState(List<long[]> memories) {
    this.memories = memories;
  }

  /** Adds a register; its reset value is ABSENT if the reset does not reach it. */
  void addRegister(int target, int words, int nextValue, int enable, int resetValue) {
    registers.add(new Register(target, words, nextValue, enable, resetValue));
    next = new long[next.length + words];
  }

  void addRead(int target, int words, int address, int enable, int memory) {
    reads.add(new Read(target, words, address, enable, memory));
    next = new long[next.length + words];
  }

  /** Adds a write port; the masks of its lanes follow each other from lane 0 on. */
  void addWrite(Memory shape, int memory, int laneMasks, WritePort port, boolean isReset) {
    writes.add(new Write(memory, shape, laneMasks, port, isReset));
  }

  /** Gives every register that is reset its reset value; all else is 0 from the start. */
  void initialize(long[] w) {
    for (Register register : registers) {
      if (register.resetValue != ABSENT) {
        System.arraycopy(w, register.resetValue, w, register.target, register.words);
      }
    }
  }

  /** One rising edge of the clock. */
  void edge(long[] w, boolean reset) {
    int at = 0;
    // Counted loops: an iterator would be the only allocation of a cycle.
    for (int r = 0; r < registers.size(); r++) {
      Register register = registers.get(r);
      boolean isReset = reset && register.resetValue != ABSENT;
      int kept = enabled(w, register) ? register.next : register.target;
      System.arraycopy(w, isReset ? register.resetValue : kept, next, at, register.words);
      at += register.words;
    }
    for (int r = 0; r < reads.size(); r++) {
      Read read = reads.get(r);
      if (enabled(w, read)) {
        int from = (int) w[read.address] * read.words;
        System.arraycopy(memories.get(read.memory), from, next, at, read.words);
        poisonIfWritten(w, read, at);
      } else {
        System.arraycopy(w, read.target, next, at, read.words);
      }
      at += read.words;
    }
    for (int i = 0; i < writes.size(); i++) {
      store(w, writes.get(i), reset);
    }
    at = 0;
    for (int r = 0; r < registers.size(); r++) {
      at = take(w, registers.get(r), at);
    }
    for (int r = 0; r < reads.size(); r++) {
      at = take(w, reads.get(r), at);
    }
  }

  /** Inverts a word just read if the edge writes to it. */
  private void poisonIfWritten(long[] w, Read read, int at) {
    for (int i = 0; i < writes.size(); i++) {
      Write write = writes.get(i);
      if (write.memory == read.memory
          && w[write.port.address] == w[read.address]
          && writesAny(w, write)) {
        int masks = write.shape.lanes() * read.words;
        for (int mask = 0; mask < masks; mask++) {
          next[at + mask % read.words] ^= w[write.laneMasks + mask];
        }
      }
    }
  }

  private static boolean writesAny(long[] w, Write write) {
    boolean any = false;
    for (int i = 0; i < Flattener.words(write.shape.lanes()); i++) {
      any |= w[write.port.enable + i] != 0;
    }
    return any;
  }

  private static boolean enabled(long[] w, Latched latched) {
    return latched.enable() == ABSENT || w[latched.enable()] != 0;
  }

  private int take(long[] w, Latched latched, int at) {
    System.arraycopy(next, at, w, latched.target(), latched.words());
    return at + latched.words();
  }

  private void store(long[] w, Write write, boolean reset) {
    long[] memory = memories.get(write.memory);
    WritePort port = write.port;
    if (port.clear != ABSENT && (w[port.clear] != 0 || (reset && write.isReset))) {
      Arrays.fill(memory, 0);
      return;
    }
    int words = Flattener.words(write.shape.width());
    int lanes = write.shape.lanes();
    int to = (int) w[port.address] * words;
    for (int lane = 0; lane < lanes; lane++) {
      if ((w[port.enable + lane / 64] >>> lane & 1) != 0) {
        int mask = write.laneMasks + lane * words;
        for (int i = 0; i < words; i++) {
          long old = memory[to + i];
          memory[to + i] = old ^ (old ^ w[port.data + i]) & w[mask + i];
        }
      }
    }
  }
}

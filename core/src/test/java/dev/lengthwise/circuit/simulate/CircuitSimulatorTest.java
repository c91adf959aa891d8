package dev.lengthwise.circuit.simulate;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.BiFunction;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;

/** Each kind of node against values worked out by hand. */
class CircuitSimulatorTest {

  private static CircuitBuilder block() {
    return Circuit.named("sample", "a block under test");
  }

  /** Evaluates a function of two inputs. */
  private static long of(int widthA, long a, int widthB, long b, TwoInputs function) {
    CircuitBuilder block = block();
    Signal left = block.input("a", widthA, "");
    Signal right = block.input("b", widthB, "");
    block.output("y", function.of(block, left, right), "");
    return CircuitSimulator.of(block.build()).outputs(a, b)[0];
  }

  private interface TwoInputs {
    Signal of(CircuitBuilder block, Signal a, Signal b);
  }

  @Test
  void slice_withinWord_shiftsAndMasks() {
    assertThat(of(16, 0xabcd, 1, 0, (c, a, b) -> c.slice(a, 4, 8))).isEqualTo(0xbc);
    assertThat(of(16, 0x8000, 1, 0, (c, a, b) -> c.bit(a, 15))).isEqualTo(1);
  }

  @Test
  void slice_acrossWords_joinsBoth() {
    assertThat(
            of(
                64,
                0xfedc_ba98_7654_3210L,
                64,
                0x0123_4567_89ab_cdefL,
                (c, a, b) -> c.slice(c.concat(List.of(a, b)), 60, 12)))
        .isEqualTo(0xdef << 4 & 0xfff | 0xf);
  }

  @Test
  void concat_parts_firstIsLow() {
    assertThat(of(4, 0x5, 8, 0xab, (c, a, b) -> c.concat(List.of(a, b)))).isEqualTo(0xab5);
  }

  @Test
  void not_narrow_keepsUpperBitsZero() {
    assertThat(of(5, 0b00101, 1, 0, (c, a, b) -> c.not(a))).isEqualTo(0b11010);
  }

  @Test
  void bitwise_twoOperands_eachOperation() {
    assertThat(of(4, 0b1100, 4, 0b1010, (c, a, b) -> c.and(List.of(a, b)))).isEqualTo(0b1000);
    assertThat(of(4, 0b1100, 4, 0b1010, (c, a, b) -> c.or(List.of(a, b)))).isEqualTo(0b1110);
    assertThat(of(4, 0b1100, 4, 0b1010, (c, a, b) -> c.xor(List.of(a, b)))).isEqualTo(0b0110);
    assertThat(of(4, 0b1100, 4, 0b1010, (c, a, b) -> c.xor(List.of(a, b, a)))).isEqualTo(0b1010);
  }

  @Test
  void reduce_wideSignal_looksAtEveryWord() {
    BiFunction<Node.Operation, Long, Long> reduced =
        (operation, high) ->
            of(64, -1L, 6, high, (c, a, b) -> c.reduce(operation, c.concat(List.of(a, b))));
    assertThat(reduced.apply(Node.Operation.AND, 0x3fL)).isEqualTo(1);
    assertThat(reduced.apply(Node.Operation.AND, 0x1fL)).isEqualTo(0);
    assertThat(reduced.apply(Node.Operation.OR, 0L)).isEqualTo(1);
    assertThat(reduced.apply(Node.Operation.XOR, 0x07L)).isEqualTo(1);
    assertThat(reduced.apply(Node.Operation.XOR, 0x03L)).isEqualTo(0);
    assertThat(of(8, 0, 1, 0, (c, a, b) -> c.reduce(Node.Operation.OR, a))).isEqualTo(0);
  }

  @Test
  void sum_overflow_isModuloWidth() {
    assertThat(of(4, 15, 4, 3, (c, a, b) -> c.add(a, b, 4))).isEqualTo(2);
    assertThat(of(4, 15, 2, 3, (c, a, b) -> c.add(a, b, 5))).isEqualTo(18);
    assertThat(of(4, 2, 4, 3, (c, a, b) -> c.subtract(a, b, 4))).isEqualTo(15);
    assertThat(of(4, 2, 4, 3, (c, a, b) -> c.subtract(a, b, 6))).isEqualTo(63);
  }

  @Test
  void sum_wide_carriesIntoTheNextWord() {
    assertThat(of(64, -1L, 64, 1, (c, a, b) -> c.slice(c.add(a, b, 70), 64, 6))).isEqualTo(1);
    assertThat(of(64, 0, 64, 1, (c, a, b) -> c.slice(c.subtract(a, b, 70), 60, 10)))
        .isEqualTo(0x3ff);
  }

  @Test
  void compare_topBitSet_isUnsigned() {
    assertThat(of(64, -1L, 64, 1, (c, a, b) -> c.lessThan(a, b))).isEqualTo(0);
    assertThat(of(64, 1, 64, -1L, (c, a, b) -> c.lessThan(a, b))).isEqualTo(1);
    assertThat(of(64, 7, 64, 7, (c, a, b) -> c.lessThan(a, b))).isEqualTo(0);
    assertThat(of(64, 7, 64, 7, (c, a, b) -> c.equal(a, b))).isEqualTo(1);
    assertThat(of(8, 7, 1, 0, (c, a, b) -> c.equal(a, 6))).isEqualTo(0);
  }

  @Test
  void select_indexPastTheLast_choosesTheLast() {
    for (int index = 0; index < 4; index++) {
      assertThat(
              of(
                  2,
                  index,
                  8,
                  0x11,
                  (c, a, b) -> c.select(a, List.of(b, c.constant(0x22, 8), c.constant(0x33, 8)))))
          .isEqualTo(new int[] {0x11, 0x22, 0x33, 0x33}[index]);
    }
  }

  @Test
  void select_indexOfTwoWords_looksAtBoth() {
    for (int high = 0; high < 2; high++) {
      assertThat(
              of(
                  64,
                  0,
                  1,
                  high,
                  (c, a, b) ->
                      c.select(
                          c.concat(List.of(a, b)),
                          List.of(c.constant(0x11, 8), c.constant(0x22, 8)))))
          .isEqualTo(high == 0 ? 0x11 : 0x22);
    }
  }

  @Test
  void lookup_everyAddress_yieldsItsWord() {
    Contents contents = Contents.of(7, 5, 127, 0, 64);
    for (int address = 0; address < 4; address++) {
      assertThat(of(2, address, 1, 0, (c, a, b) -> c.lookup(a, contents)))
          .isEqualTo(contents.word(address));
    }
    assertThat(of(1, 1, 1, 0, (c, a, b) -> c.lut(List.of(a, b), Contents.of(1, 0, 1, 0, 0))))
        .isEqualTo(1);
    assertThat(of(1, 0, 1, 1, (c, a, b) -> c.lut(List.of(a, b), Contents.of(1, 0, 1, 0, 0))))
        .isEqualTo(0);
  }

  private static Circuit counter(Reset reset) {
    CircuitBuilder block = Circuit.named("counter", "counts enabled cycles").reset(reset);
    Signal enable = block.input("enable", 1, "");
    Signal count = block.register("count", 4, 9);
    block.drive(count, block.add(count, block.constant(1, 4), 4), enable);
    return block.output("value", count, "").build();
  }

  @Test
  void register_enableAndReset_resetComesFirst() {
    for (Reset reset : List.of(Reset.ACTIVE_HIGH, Reset.ACTIVE_LOW)) {
      CircuitSimulator simulator = CircuitSimulator.of(counter(reset));
      int enable = simulator.input("enable");
      int value = simulator.output("value");
      assertThat(simulator.get(value)).isEqualTo(9);
      simulator.tick();
      assertThat(simulator.get(value)).isEqualTo(9);
      simulator.set(enable, 1);
      simulator.tick();
      assertThat(simulator.get(value)).isEqualTo(10);
      simulator.reset(true);
      assertThat(simulator.get(value)).isEqualTo(10);
      simulator.tick();
      assertThat(simulator.get(value)).isEqualTo(9);
    }
  }

  @Test
  void register_withoutReset_startsAtZero() {
    CircuitSimulator simulator = CircuitSimulator.of(counter(Reset.NONE));
    assertThat(simulator.outputs(1)).asList().containsExactly(0L);
    simulator.tick();
    assertThat(simulator.outputs(1)).asList().containsExactly(1L);
    IllegalStateException e =
        assertThrows(IllegalStateException.class, () -> simulator.reset(true));
    assertThat(e).hasMessageThat().isEqualTo("circuit counter: a reset is needed, found none");
  }

  @Test
  void register_swap_takesOldValues() {
    CircuitBuilder block = block();
    Signal a = block.register("a_value", 8, 1);
    Signal b = block.register("b_value", 8, 2);
    block.drive(a, b);
    block.drive(b, a);
    CircuitSimulator simulator =
        CircuitSimulator.of(block.output("a", a, "").output("b", b, "").build());
    simulator.tick();
    assertThat(simulator.outputs()).isEqualTo(new long[] {2, 1});
  }

  @Test
  void memory_block_readsTheWordOneCycleLater() {
    CircuitBuilder block = block();
    Memory ram = block.memory(new Memory("ram", Memory.Kind.BLOCK, 4, 8, 2));
    Signal address = block.input("address", 2, "");
    block.write(ram, block.input("lanes", 2, ""), address, block.input("data", 8, ""));
    Signal from = block.input("from", 2, "");
    block.output("word", block.read(ram, from), "");
    block.output("held", block.read(ram, from, block.input("read", 1, "")), "");
    CircuitSimulator simulator = CircuitSimulator.of(block.build());
    simulator.outputs(3, 0b11, 0xab, 0, 0);
    simulator.tick();
    assertThat(simulator.outputs(2, 0b10, 0xcd, 3, 0)).isEqualTo(new long[] {0, 0});
    simulator.tick();
    assertThat(simulator.outputs(3, 0b10, 0xcd, 2, 1)).isEqualTo(new long[] {0xab, 0});
    simulator.tick();
    assertThat(simulator.outputs(0, 0b00, 0xff, 3, 0)).isEqualTo(new long[] {0xc0, 0xc0});
    simulator.tick();
    assertThat(simulator.outputs(0, 0, 0, 0, 0)).isEqualTo(new long[] {0xcb, 0xc0});
  }

  @Test
  void memory_blockWordReadInTheCycleThatWritesIt_hasEveryBitOfTheOldOneInverted() {
    CircuitBuilder block = block();
    Memory ram = block.memory(new Memory("ram", Memory.Kind.BLOCK, 4, 70, 70));
    Signal address = block.input("address", 2, "");
    Signal lane = block.input("last_lane", 1, "");
    Signal lanes = block.concat(List.of(block.constant(0, 69), lane));
    Signal data = block.concat(List.of(block.constant(0, 69), lane));
    block.write(ram, lanes, address, data);
    Signal word = block.read(ram, address, block.input("read", 1, ""));
    block.output("low", block.slice(word, 0, 8), "");
    block.output("high", block.slice(word, 64, 6), "");
    CircuitSimulator simulator = CircuitSimulator.of(block.build());
    simulator.outputs(1, 1, 0);
    simulator.tick();
    simulator.outputs(1, 1, 1);
    simulator.tick();
    assertThat(simulator.outputs(1, 0, 1)).isEqualTo(new long[] {0xff, 0x1f});
    simulator.tick();
    assertThat(simulator.outputs(1, 1, 0)).isEqualTo(new long[] {0, 0x20});
    simulator.tick();
    assertThat(simulator.outputs(2, 0, 0)).isEqualTo(new long[] {0, 0x20});
  }

  @Test
  void memory_distributed_readsInTheSameCycle() {
    CircuitBuilder block = block();
    Memory ram = block.memory(new Memory("ram", Memory.Kind.DISTRIBUTED, 2, 4, 1));
    Signal address = block.input("address", 1, "");
    block.write(ram, block.constant(1, 1), address, block.input("data", 4, ""));
    block.output("word", block.read(ram, address), "");
    CircuitSimulator simulator = CircuitSimulator.of(block.build());
    assertThat(simulator.outputs(1, 7)).isEqualTo(new long[] {0});
    simulator.tick();
    assertThat(simulator.outputs(1, 7)).isEqualTo(new long[] {7});
    assertThat(simulator.outputs(0, 7)).isEqualTo(new long[] {0});
  }

  @Test
  void memory_registers_clearsEveryWordAtOnce() {
    CircuitBuilder block = block();
    Memory flags = block.memory(new Memory("flags", Memory.Kind.REGISTERS, 4, 2, 2));
    Signal address = block.input("address", 2, "");
    Signal lanes = block.input("lanes", 2, "");
    Signal clear = block.input("clear", 1, "");
    block.write(flags, lanes, address, block.constant(3, 2), clear);
    block.output("word", block.read(flags, address), "");
    CircuitSimulator simulator = CircuitSimulator.of(block.build());
    simulator.outputs(1, 0b01, 0);
    simulator.tick();
    simulator.outputs(2, 0b11, 0);
    simulator.tick();
    assertThat(simulator.outputs(1, 0, 0)).isEqualTo(new long[] {1});
    assertThat(simulator.outputs(2, 0, 0)).isEqualTo(new long[] {3});
    simulator.outputs(3, 0b11, 1);
    simulator.tick();
    for (int word = 1; word < 4; word++) {
      assertThat(simulator.outputs(word, 0, 0)).isEqualTo(new long[] {0});
    }
  }

  @Test
  void instance_inputConnectedLate_closesTheRing() {
    CircuitBuilder inner = Circuit.named("step", "a register before an adder");
    Signal held = inner.register("held", 8, 0);
    Signal by = inner.input("by", 8, "");
    inner.output("sum", inner.add(held, by, 8), "");
    inner.drive(held, inner.input("late", 8, ""));
    Circuit step = inner.build();
    assertThat(step.followed()).containsExactly("sum", Set.of("by"));
    CircuitBuilder block = block();
    Signal sum = block.instance("counts", step, Map.of("by", block.input("by", 8, ""))).get("sum");
    block.connect("counts", "late", sum);
    block.output("sum", sum, "");
    CircuitSimulator simulator = CircuitSimulator.of(block.build());
    assertThat(simulator.outputs(3)).isEqualTo(new long[] {3});
    simulator.tick();
    assertThat(simulator.outputs(4)).isEqualTo(new long[] {7});
    simulator.tick();
    assertThat(simulator.outputs(5)).isEqualTo(new long[] {12});
  }

  @Test
  void instance_feedbackThroughRegisteredOutput_counts() {
    CircuitBuilder inner = Circuit.named("stage", "a register and a path past it");
    Signal in = inner.input("in_value", 8, "");
    Signal held = inner.register("held", 8, 0);
    inner.drive(held, inner.add(in, held, 8));
    inner.output("passed", in, "").output("sum", held, "");
    Circuit stage = inner.build();

    CircuitBuilder outer = block();
    Signal loop = outer.register("looped", 8, 1);
    Map<String, Signal> first = outer.instance("first", stage, Map.of("in_value", loop));
    Map<String, Signal> second =
        outer.instance("second", stage, Map.of("in_value", first.get("passed")));
    outer.drive(loop, second.get("sum"));
    outer.output("sum", second.get("sum"), "").output("passed", second.get("passed"), "");
    CircuitSimulator simulator = CircuitSimulator.of(outer.build());
    long[][] seen =
        IntStream.range(0, 4)
            .mapToObj(
                i -> {
                  long[] now = simulator.outputs();
                  simulator.tick();
                  return now;
                })
            .toArray(long[][]::new);
    // sum' = sum + loop, loop' = sum, from 0 and 1.
    assertThat(seen).isEqualTo(new long[][] {{0, 1}, {1, 0}, {1, 1}, {2, 1}});
  }

  @Test
  void wideValues_setAndGet_keepEveryWord() {
    CircuitBuilder block = block();
    Signal in = block.input("in_value", 130, "");
    Circuit circuit = block.output("y", block.not(in), "").build();
    CircuitSimulator simulator = CircuitSimulator.of(circuit);
    int input = simulator.input("in_value");
    int output = simulator.output("y");
    simulator.set(input, new long[] {5, 6, 1});
    long[] into = new long[3];
    simulator.get(output, into);
    assertThat(into).isEqualTo(new long[] {~5L, ~6L, 2});
    simulator.set(input, 7);
    simulator.get(output, into);
    assertThat(into).isEqualTo(new long[] {~7L, -1L, 3});
  }

  @Test
  void misuse_eachWay_saysWhatIsExpected() {
    CircuitBuilder block = block();
    Signal narrow = block.input("narrow", 4, "");
    Signal wide = block.input("wide", 70, "");
    block.output("low", narrow, "").output("whole", wide, "");
    CircuitSimulator simulator = CircuitSimulator.of(block.build());
    assertFault(
        () -> simulator.input("low"),
        "circuit sample: an input of the circuit is expected, found low");
    assertFault(
        () -> simulator.output("narrow"),
        "circuit sample: an output of the circuit is expected, found narrow");
    assertFault(
        () -> simulator.set(simulator.input("narrow"), 16),
        "port narrow: a value must fit in 4 bits, found 0x10");
    assertFault(
        () -> simulator.set(simulator.input("wide"), new long[] {0, 64}),
        "port wide: a value must fit in 70 bits, found 0x40 in word 1");
    assertFault(
        () -> simulator.set(simulator.input("wide"), new long[3]),
        "port wide: an array of 2 words is expected, found 3");
    assertFault(
        () -> simulator.set(simulator.output("low"), 1),
        "circuit sample: only inputs are set, found low");
    assertFault(
        () -> simulator.get(simulator.output("whole")),
        "port whole: a value of one word has at most 64 bits, found 70");
    assertFault(() -> simulator.outputs(1), "circuit sample: 2 inputs are expected, found 1");
  }

  private static void assertFault(Runnable call, String message) {
    IllegalArgumentException e = assertThrows(IllegalArgumentException.class, call::run);
    assertThat(e).hasMessageThat().isEqualTo(message);
  }
}

package dev.lengthwise.circuit;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.params.provider.Arguments.arguments;

import dev.lengthwise.circuit.simulate.CircuitSimulator;
import java.math.BigInteger;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Consumer;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.MethodSource;

class CircuitBuilderTest {

  private static final Memory TAGS = new Memory("tags", Memory.Kind.BLOCK, 16, 6, 2);
  private static final Memory BITS = new Memory("bits", Memory.Kind.DISTRIBUTED, 4, 1, 1);

  private static final Memory FLAGS = new Memory("flags", Memory.Kind.REGISTERS, 4, 1, 1);

  /** A builder to make mistakes on, with a signal of one, four and eight bits. */
  private static final class Desk {
    final CircuitBuilder block = Circuit.named("desk", "Takes mistakes.");
    final Signal one = block.input("one", 1, "a bit");
    final Signal four = block.input("four", 4, "a digit");
    final Signal eight = block.input("eight", 8, "a byte");
  }

  private static Arguments fault(String message, Consumer<Desk> mistake) {
    return arguments(message, mistake);
  }

  static Stream<Arguments> logicFaults() {
    return Stream.of(
        fault("a constant must fit in 4 bits, found 16", d -> d.block.constant(16, 4)),
        fault(
            "a constant must fit in 4 bits, found -1",
            d -> d.block.constant(BigInteger.valueOf(-1), 4)),
        fault("a slice must lie inside 4 bits, found [4:4]", d -> d.block.bit(d.four, 4)),
        fault("a slice must lie inside 4 bits, found [2:-1]", d -> d.block.slice(d.four, -1, 4)),
        fault("a slice must lie inside 4 bits, found [0:1]", d -> d.block.slice(d.four, 1, 0)),
        fault("a concatenation needs a part, found none", d -> d.block.concat(List.of())),
        fault(
            "an extension must not be narrower than 8 bits, found 7",
            d -> d.block.extend(d.eight, 7)),
        fault("AND operands must be at least one, found none", d -> d.block.and(List.of())),
        fault(
            "OR operands must have one width, found 4 and 8 bits",
            d -> d.block.or(List.of(d.four, d.eight))),
        fault(
            "XOR operands must have one width, found 1 and 4 bits",
            d -> d.block.xor(List.of(d.one, d.four))),
        fault(
            "a sum must not be narrower than its operands of 8 bits, found 7",
            d -> d.block.add(d.four, d.eight, 7)),
        fault(
            "a sum must not be narrower than its operands of 8 bits, found 4",
            d -> d.block.subtract(d.eight, d.four, 4)),
        fault(
            "compared signals must have one width, found 4 and 8 bits",
            d -> d.block.equal(d.four, d.eight)),
        fault(
            "compared signals must have one width, found 8 and 1 bits",
            d -> d.block.lessThan(d.eight, d.one)),
        fault(
            "a multiplexer of two must be selected by one bit, found 4 bits",
            d -> d.block.mux(d.four, d.one, d.one)),
        fault(
            "choices must have one width, found 4 and 8 bits",
            d -> d.block.mux(d.one, d.eight, d.four)),
        fault("choices must be at least one, found none", d -> d.block.select(d.four, List.of())),
        fault(
            "an index of 1 bits must reach every choice, found 3 choices",
            d -> d.block.select(d.one, List.of(d.four, d.four, d.four))),
        fault(
            "the address of a table of 4 x 8 bits must have 2 bits, found 4",
            d -> d.block.lookup(d.four, Contents.of(8, 1, 2, 3, 4))),
        fault(
            "a LUT must have one output bit, found 2",
            d -> d.block.lut(List.of(d.one), Contents.of(2, 0, 3))),
        fault(
            "a LUT must have 1 to 8 inputs, found 0",
            d -> d.block.lut(List.of(), Contents.of(1, 0))),
        fault(
            "a LUT must have 1 to 8 inputs, found 9",
            d -> d.block.lut(Collections.nCopies(9, d.one), Contents.of(1, new long[512]))),
        fault(
            "an input of a LUT must have one bit, found 4 bits",
            d -> d.block.lut(List.of(d.four), Contents.of(1, new long[16]))),
        fault(
            "the address of a table of 4 x 1 bits must have 2 bits, found 1",
            d -> d.block.lut(List.of(d.one), Contents.of(1, 0, 1, 1, 0))),
        fault(
            "an operand must be a signal of this circuit, found node 2 of desk",
            d -> d.block.not(new Desk().eight)));
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("logicFaults")
  void logic_faulty(String message, Consumer<Desk> mistake) {
    assertFault(message, mistake);
  }

  private static void assertFault(String message, Consumer<Desk> mistake) {
    Desk desk = new Desk();
    IllegalArgumentException thrown =
        assertThrows(IllegalArgumentException.class, () -> mistake.accept(desk));
    assertThat(thrown).hasMessageThat().isEqualTo("circuit desk: " + message);
  }

  static Stream<Arguments> blockFaults() {
    return Stream.of(
        fault("a port is given once, found four again", d -> d.block.input("four", 1, "")),
        fault("a port is given once, found one again", d -> d.block.output("one", d.one, "")),
        fault(
            "clock and reset are ports of every clocked block, found port clock",
            d -> d.block.input("clock", 1, "")),
        fault(
            "clock and reset are ports of every clocked block, found port reset_n",
            d -> d.block.output("reset_n", d.one, "")),
        fault(
            "the reset value of count must fit in 3 bits, found 8",
            d -> d.block.register("count", 3, 8)),
        fault("a register is expected, found " + new Node.Input("one", 1), d -> drive(d, d.one)),
        fault(
            "register count must take 4 bits, found 8",
            d -> d.block.drive(d.block.register("count", 4, 0), d.eight)),
        fault(
            "the enable of count must have a width of 1, found 8",
            d -> d.block.drive(d.block.register("count", 4, 0), d.four, d.eight)),
        fault(
            "a register is driven once, found count again",
            d -> {
              Signal count = d.block.register("count", 4, 0);
              d.block.drive(count, d.four);
              d.block.drive(count, d.four, d.one);
            }),
        fault(
            "a memory is given once, found tags again", d -> d.block.memory(d.block.memory(TAGS))),
        fault("a memory of this circuit is expected, found tags", d -> d.block.read(TAGS, d.four)),
        fault(
            "the address of tags must have a width of 4, found 8",
            d -> d.block.read(d.block.memory(TAGS), d.eight)),
        fault(
            "the read enable of tags must have a width of 1, found 4",
            d -> d.block.read(d.block.memory(TAGS), d.four, d.four)),
        fault(
            "only block RAM has a read enable, found bits",
            d -> d.block.read(d.block.memory(BITS), d.block.slice(d.four, 0, 2), d.one)),
        fault(
            "the write enable of tags must have a width of 2, found 1",
            d -> d.block.write(d.block.memory(TAGS), d.one, d.four, d.block.slice(d.eight, 0, 6))),
        fault(
            "the data of tags must have a width of 6, found 8",
            d -> d.block.write(d.block.memory(TAGS), d.block.slice(d.four, 0, 2), d.four, d.eight)),
        fault(
            "a memory has one write port, found bits again",
            d -> {
              Memory bits = d.block.memory(BITS);
              Signal address = d.block.slice(d.four, 0, 2);
              d.block.write(bits, d.one, address, d.one);
              d.block.write(bits, d.one, address, d.one);
            }),
        fault(
            "a memory of registers, and no other, is cleared, found bits",
            d -> {
              Memory bits = d.block.memory(BITS);
              d.block.write(bits, d.one, d.block.slice(d.four, 0, 2), d.one, d.one);
            }),
        fault(
            "a memory of registers, and no other, is cleared, found flags",
            d -> {
              Memory flags = d.block.memory(FLAGS);
              d.block.write(flags, d.one, d.block.slice(d.four, 0, 2), d.one);
            }),
        fault(
            "the clear of flags must have a width of 1, found 4",
            d -> {
              Memory flags = d.block.memory(FLAGS);
              d.block.write(flags, d.one, d.block.slice(d.four, 0, 2), d.one, d.four);
            }));
  }

  private static void drive(Desk desk, Signal target) {
    desk.block.drive(target, desk.one);
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("blockFaults")
  void block_faulty(String message, Consumer<Desk> mistake) {
    assertFault(message, mistake);
  }

  private static Circuit adder() {
    CircuitBuilder block = Circuit.named("adder", "Adds.");
    Signal a = block.input("a", 4, "first");
    Signal b = block.input("b", 4, "second");
    return block.output("total", block.add(a, b, 5), "sum").build();
  }

  static Stream<Arguments> instanceFaults() {
    return Stream.of(
        fault(
            "instance sum needs every input, found none for b",
            d -> d.block.instance("sum", adder(), Map.of("a", d.four))),
        fault(
            "input b of sum must have a width of 4, found 8",
            d -> d.block.instance("sum", adder(), Map.of("a", d.four, "b", d.eight))),
        fault(
            "instance sum has no such input, found c",
            d ->
                d.block.instance(
                    "sum", adder(), Map.of("a", d.four, "b", d.four, "d", d.one, "c", d.one))),
        fault(
            "instance sum has no such input, found total",
            d ->
                d.block.instance("sum", adder(), Map.of("a", d.four, "b", d.four, "total", d.one))),
        fault(
            "an instance is given once, found sum again",
            d -> {
              d.block.instance("sum", adder(), Map.of("a", d.four, "b", d.four));
              d.block.instance("sum", adder(), Map.of("a", d.four, "b", d.four));
            }),
        fault(
            "an instance of this circuit is expected, found sum",
            d -> d.block.connect("sum", "a", d.four)),
        fault(
            "an input of sum is connected once, found a again",
            d -> {
              d.block.instance("sum", adder(), Map.of("a", d.four, "b", d.four));
              d.block.connect("sum", "a", d.four);
            }),
        fault(
            "input late of hold must have a width of 4, found 8",
            d -> {
              d.block.instance("hold", holder(), Map.of());
              d.block.connect("hold", "late", d.eight);
            }));
  }

  /** A block whose output follows no input. */
  private static Circuit holder() {
    CircuitBuilder block = Circuit.named("holder", "Holds.");
    Signal held = block.register("held", 4, 0);
    block.drive(held, block.input("late", 4, "a value"));
    return block.output("value", held, "it").build();
  }

  @Test
  void build_inputNeverConnected_isNamed() {
    Desk desk = new Desk();
    desk.block.output("value", desk.block.instance("hold", holder(), Map.of()).get("value"), "");
    IllegalStateException missing =
        assertThrows(IllegalStateException.class, () -> desk.block.build());
    assertThat(missing)
        .hasMessageThat()
        .isEqualTo("circuit desk: instance hold needs every input, found none for late");
  }

  @ParameterizedTest(name = "{0}")
  @MethodSource("instanceFaults")
  void instance_faulty(String message, Consumer<Desk> mistake) {
    assertFault(message, mistake);
  }

  @Test
  void width_outOfRange() {
    Desk desk = new Desk();
    IllegalArgumentException none =
        assertThrows(IllegalArgumentException.class, () -> desk.block.input("none", 0, ""));
    assertThat(none)
        .hasMessageThat()
        .isEqualTo("port none: the width must be in [1, 1024] bits, found 0");
    IllegalArgumentException wide =
        assertThrows(
            IllegalArgumentException.class,
            () -> desk.block.concat(Collections.nCopies(129, desk.eight)));
    assertThat(wide)
        .hasMessageThat()
        .isEqualTo("circuit desk, node 3: the width must be in [1, 1024] bits, found 1032");
    assertThat(desk.block.concat(Collections.nCopies(128, desk.eight)).width()).isEqualTo(1024);
  }

  @Test
  void build_severalFaults_reportsAll() {
    Desk desk = new Desk();
    desk.block.reset(Reset.ACTIVE_LOW);
    desk.block.register("count", 4, 0);
    desk.block.register("state", 2, 3);
    desk.block.memory(TAGS);
    CircuitBuilder inner = Circuit.named("inner", "Waits a cycle.");
    Signal held = inner.register("held", 1, 0);
    inner.drive(held, inner.input("in_bit", 1, ""));
    Circuit block = inner.output("out_bit", held, "").build();
    desk.block.instance("wait_one", block, Map.of("in_bit", desk.one));
    IllegalStateException thrown =
        assertThrows(IllegalStateException.class, () -> desk.block.build());
    assertThat(thrown)
        .hasMessageThat()
        .isEqualTo(
            """
            circuit desk: at least one output is needed, found none
            circuit desk: a register must be driven, found none for count
            circuit desk: a register must be driven, found none for state
            circuit desk: a memory must be written, found no write port of tags
            circuit desk: a block inside must be reset alike, found ACTIVE_HIGH in wait_one\
            """);
  }

  @Test
  void build_builderUsedOn_leavesTheCircuitAlone() {
    Desk desk = new Desk();
    Circuit circuit = desk.block.output("copy", desk.four, "").build();
    desk.block.output("more", desk.block.not(desk.one), "").fact("levels", "1");
    assertThat(circuit.ports()).hasSize(4);
    assertThat(circuit.nodes()).hasSize(3);
    assertThat(circuit.drivers().keySet()).containsExactly("copy");
    assertThat(circuit.facts()).isEmpty();
    assertThat(desk.block.build().drivers().keySet()).containsExactly("copy", "more").inOrder();
  }

  @Test
  void blocks_shared_comeOnceAndBeforeTheirUsers() {
    Circuit adder = adder();
    Desk desk = new Desk();
    Map<String, Signal> inputs = new LinkedHashMap<>();
    inputs.put("a", desk.four);
    inputs.put("b", desk.four);
    Signal first = desk.block.instance("first", adder, inputs).get("total");
    Signal second = desk.block.instance("second", adder, inputs).get("total");
    Circuit top = desk.block.output("alike", desk.block.equal(first, second), "").build();
    assertThat(top.blocks()).containsExactly(adder, top).inOrder();
    assertThat(top.isClocked()).isFalse();
  }

  @Test
  void blocks_twoOfOneName_areNamedApart() {
    Desk desk = new Desk();
    Map<String, Signal> inputs = Map.of("a", desk.four, "b", desk.four);
    Signal first = desk.block.instance("first", adder(), inputs).get("total");
    Signal second = desk.block.instance("second", adder(), inputs).get("total");
    Circuit top = desk.block.output("alike", desk.block.equal(first, second), "").build();
    assertThat(top.blocks().stream().map(Circuit::name))
        .containsExactly("adder", "adder_2", top.name())
        .inOrder();
    assertThat(top.instances().stream().map(instance -> instance.circuit().name()))
        .containsExactly("adder", "adder_2")
        .inOrder();
  }

  @Test
  void ports_ofUsers_keepTheirNames() {
    CircuitBuilder inner = Circuit.named("inner", "");
    Signal key = inner.input("key", 1, "ours");
    Signal mode = inner.userInput("key", 1, "a user's");
    Signal other = inner.userInput("bytes", 1, "a user's");
    Circuit block =
        inner
            .output("bytes", inner.and(List.of(key, mode, inner.not(other))), "ours")
            .output("key_2", key, "ours, and as the allocator would call the other")
            .build();
    assertThat(block.ports().stream().map(Port::name))
        .containsExactly("key_3", "key", "bytes", "bytes_2", "key_2")
        .inOrder();
    assertThat(inner.build().ports()).isEqualTo(block.ports());
    CircuitBuilder outer = Circuit.named("outer", "");
    Signal a = outer.input("a", 1, "");
    Signal b = outer.input("b", 1, "");
    Signal c = outer.input("c", 1, "");
    Map<String, Signal> outputs =
        outer.instance(
            "placed",
            block,
            Map.of("key", a, Port.keyOfUser("key"), b, Port.keyOfUser("bytes"), c));
    Circuit top =
        outer
            .output("every", outputs.get("bytes"), "")
            .output("ours", outputs.get("key_2"), "")
            .build();
    CircuitSimulator simulator = CircuitSimulator.of(top);
    assertThat(simulator.outputs(1, 1, 0)).isEqualTo(new long[] {1, 1});
    assertThat(simulator.outputs(1, 0, 0)).isEqualTo(new long[] {0, 1});
    assertThat(simulator.outputs(0, 1, 0)).isEqualTo(new long[] {0, 0});
    assertThat(simulator.outputs(1, 1, 1)).isEqualTo(new long[] {0, 1});
  }

  @Test
  void contents_faulty() {
    assertContentsFault("the data width must be in [1, 64], found 0", 0, 0);
    assertContentsFault("the data width must be in [1, 64], found 65", 65, 0);
    assertContentsFault(
        "the number of words must be a power of two up to 65536, found 3", 4, 1, 2, 3);
    assertContentsFault(
        "the number of words must be a power of two up to 65536, found 131072",
        1,
        new long[131072]);
    assertContentsFault("a word must fit in 4 bits, found 0x10 at address 0x1", 4, 15, 16);
    assertThat(Contents.of(64, -1, 0).word(0)).isEqualTo(-1);
  }

  private static void assertContentsFault(String message, int dataBits, long... words) {
    IllegalArgumentException thrown =
        assertThrows(IllegalArgumentException.class, () -> Contents.of(dataBits, words));
    assertThat(thrown).hasMessageThat().isEqualTo("lookup table: " + message);
  }

  @Test
  void contents_callersArrayChanged_staysTheSame() {
    long[] words = {1, 2};
    Contents contents = Contents.of(2, words);
    words[0] = 3;
    assertThat(contents.word(0)).isEqualTo(1);
    assertThat(contents).isEqualTo(Contents.of(2, 1, 2));
    assertThat(contents).isNotEqualTo(Contents.of(3, 1, 2));
  }

  @Test
  void memory_faultyShape() {
    assertMemoryFault("the depth must be a power of two in [2, 65536], found 1", 1, 8, 1);
    assertMemoryFault("the depth must be a power of two in [2, 65536], found 12", 12, 8, 1);
    assertMemoryFault("the depth must be a power of two in [2, 65536], found 131072", 131072, 8, 1);
    assertMemoryFault("write lanes must divide the width 8, found 3", 16, 8, 3);
    assertMemoryFault("write lanes must divide the width 8, found 0", 16, 8, 0);
    assertMemoryFault("the width must be in [1, 1024] bits, found 1025", 16, 1025, 1);
  }

  private static void assertMemoryFault(String message, int depth, int width, int lanes) {
    IllegalArgumentException thrown =
        assertThrows(
            IllegalArgumentException.class,
            () -> new Memory("tags", Memory.Kind.BLOCK, depth, width, lanes));
    assertThat(thrown).hasMessageThat().isEqualTo("memory tags: " + message);
  }

  @Test
  void outputFile_pathOutOfTheTree_isRejected() {
    for (String path : new String[] {"/etc/x", "../x", "a/../x", "", "a//b", "a b", "c:\\x"}) {
      IllegalArgumentException thrown =
          assertThrows(IllegalArgumentException.class, () -> new OutputFile(path, ""));
      assertThat(thrown)
          .hasMessageThat()
          .isEqualTo("output file: a path must be relative and lead into the tree, found " + path);
    }
    assertThat(new OutputFile("verilog/lane.v", "x\n").path()).isEqualTo("verilog/lane.v");
  }
}

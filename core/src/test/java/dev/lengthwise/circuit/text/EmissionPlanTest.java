package dev.lengthwise.circuit.text;

import static com.google.common.truth.Truth.assertThat;

import com.google.common.collect.Range;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Contents;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Signal;
import java.math.BigInteger;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.junit.jupiter.api.Test;

class EmissionPlanTest {

  private final CircuitBuilder c = Circuit.named("sample", "");
  private final Signal a = c.input("a", 8, "");
  private final Signal b = c.input("b", 8, "");

  private List<String> names() {
    EmissionPlan plan = EmissionPlan.of(c.build());
    return plan.statements().stream().map(place -> plan.name(place).orElseThrow()).toList();
  }

  @Test
  void statements_readOnce_isInlined() {
    c.output("x", c.or(List.of(c.and(List.of(a, b)), b)), "");
    assertThat(names()).containsExactly("x");
  }

  @Test
  void statements_readTwice_getsSignal() {
    Signal both = c.and(List.of(a, b));
    c.output("x", c.or(List.of(both, b)), "").output("y", c.xor(List.of(both, b)), "");
    assertThat(names()).containsExactly("a_and_b", "x", "y").inOrder();
  }

  @Test
  void statements_outputReadInside_getsSignalNamedAfterPort() {
    Signal both = c.and(List.of(a, b));
    c.output("x", both, "").output("y", c.not(both), "");
    assertThat(names()).containsExactly("x_value", "y").inOrder();
  }

  @Test
  void statements_slicedExpression_getsSignal() {
    c.output("x", c.slice(c.add(a, b, 9), 4, 5), "");
    assertThat(names()).containsExactly("a_plus_b");
  }

  @Test
  void statements_largeOperand_getsSignal() {
    Signal sum = a;
    for (int i = 0; i < 12; i++) {
      sum = c.xor(List.of(c.and(List.of(sum, b)), a));
    }
    c.output("x", sum, "");
    assertThat(names().size()).isIn(Range.closed(2, 8));
  }

  private Node printed(Signal signal) {
    c.output("x", signal, "");
    return EmissionPlan.of(c.build()).node(signal);
  }

  @Test
  void node_choiceOfOneBitOrZero_isAnd() {
    Signal s = c.bit(a, 0);
    Signal y = c.bit(b, 0);
    assertThat(printed(c.mux(s, y, c.constant(0, 1))))
        .isEqualTo(new Node.Bitwise(Node.Operation.AND, List.of(s, y)));
  }

  @Test
  void node_choiceOfOneOrOneBit_isOr() {
    Signal s = c.bit(a, 0);
    Signal y = c.bit(b, 0);
    assertThat(printed(c.mux(s, c.constant(1, 1), y)))
        .isEqualTo(new Node.Bitwise(Node.Operation.OR, List.of(s, y)));
  }

  @Test
  void node_inversionOfAnInversion_isTheSignal() {
    Signal s = c.bit(a, 7);
    assertThat(printed(c.not(c.equal(s, 0)))).isEqualTo(new Node.Slice(a, 7, 1));
  }

  @Test
  void node_choiceThatNeedsAnInversion_staysAChoice() {
    Signal choice = c.mux(c.bit(a, 0), c.constant(0, 1), c.bit(b, 0));
    assertThat(printed(choice)).isInstanceOf(Node.Select.class);
  }

  @Test
  void node_neighbouringBitsSideBySide_isASlice() {
    assertThat(printed(c.concat(List.of(c.bit(a, 1), c.slice(a, 2, 3), c.bit(a, 5)))))
        .isEqualTo(new Node.Slice(a, 1, 5));
  }

  @Test
  void parts_neighbours_areJoinedAndCopiesCounted() {
    Signal bit = c.bit(b, 7);
    Signal low = c.constant(2, 2);
    Signal high = c.constant(1, 1);
    Signal all =
        c.concat(
            List.of(c.bit(a, 1), c.bit(a, 2), bit, bit, c.bit(a, 4), c.bit(a, 3), b, low, high));
    c.output("x", all, "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(ConcatPart.of(plan, (Node.Concat) plan.node(all)))
        .containsExactly(
            new ConcatPart(low, Optional.of(new Node.Constant(BigInteger.valueOf(6), 3)), 0, 3, 1),
            new ConcatPart(b, Optional.empty(), 0, 8, 1),
            new ConcatPart(a, Optional.empty(), 3, 1, 1),
            new ConcatPart(a, Optional.empty(), 4, 1, 1),
            new ConcatPart(b, Optional.empty(), 7, 1, 2),
            new ConcatPart(a, Optional.empty(), 1, 2, 1))
        .inOrder();
  }

  @Test
  void statements_nothingReads_isLeftOut() {
    c.named(c.not(a), "dead");
    c.output("x", c.not(b), "");
    assertThat(names()).containsExactly("x");
  }

  @Test
  void name_registerBehindPortOfItsName_getsSuffix() {
    Signal count = c.register("count", 8, 0);
    c.drive(count, a);
    c.output("count", count, "");
    assertThat(names()).containsExactly("count_q");
  }

  @Test
  void name_twoWishesAlike_areNumbered() {
    c.output("x", c.xor(List.of(c.named(c.not(a), "raw"), c.named(c.not(b), "raw"))), "");
    assertThat(names()).containsExactly("raw", "raw_2", "x").inOrder();
  }

  @Test
  void name_readByOneRegister_saysWhoseNextValueItIs() {
    Signal count = c.register("count", 8, 0);
    c.drive(count, c.mux(c.bit(a, 0), b, count), c.and(List.of(c.bit(a, 1), c.bit(b, 1))));
    c.output("x", count, "");
    assertThat(names()).containsExactly("count", "next_count").inOrder();
  }

  @Test
  void name_readByOneInstance_saysOfWhichPort() {
    CircuitBuilder inner = Circuit.named("inner", "");
    inner.output("q", inner.not(inner.input("value", 8, "")), "");
    Signal sum = c.add(a, b, 8);
    c.output("x", c.instance("one", inner.build(), Map.of("value", sum)).get("q"), "");
    assertThat(names()).containsExactly("one_value", "x").inOrder();
  }

  @Test
  void name_ofNothingNearer_saysWhatItIsMadeOf() {
    Signal joined = c.concat(List.of(c.slice(a, 0, 3), b));
    Signal widened = c.extend(a, 11);
    Signal chosen = c.mux(c.bit(a, 7), widened, c.constant(0, 11));
    Signal all = c.xor(List.of(joined, widened, chosen));
    c.output("x", all, "").output("y", c.or(List.of(joined, widened)), "");
    assertThat(names())
        .containsExactly("a_bits_and_b", "a_padded", "a_padded_if_a_bit_7", "x", "y")
        .inOrder();
  }

  @Test
  void name_ofNamesTooLong_isPlain() {
    Signal one = c.named(c.not(a), "a_name_that_says_all_there_is");
    Signal other = c.named(c.not(b), "another_that_says_as_much");
    Signal both = c.and(List.of(one, other));
    c.output("x", c.or(List.of(both, a)), "").output("y", c.xor(List.of(both, b)), "");
    assertThat(names()).contains("term");
  }

  @Test
  void name_suggested_isTakenOnlyWhereASignalIsNeeded() {
    Signal both = c.suggested(c.and(List.of(a, b)), "both");
    Signal either = c.suggested(c.or(List.of(a, b)), "either");
    c.output("x", c.xor(List.of(both, a)), "").output("y", c.xor(List.of(both, either)), "");
    assertThat(names()).containsExactly("both", "x", "y").inOrder();
  }

  @Test
  void node_sliceOfConcatenation_readsThePart() {
    Signal piece = c.slice(c.concat(List.of(a, b)), 10, 3);
    c.output("x", piece, "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.node(piece)).isEqualTo(new Node.Slice(b, 2, 3));
    assertThat(plan.portAssignments()).containsExactly("x", piece);
  }

  @Test
  void node_neverLess_isZero() {
    Signal never = c.lessThan(a, c.constant(0, 8));
    c.output("x", never, "").output("y", c.lookup(c.constant(1, 1), Contents.of(4, 2, 9)), "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.node(never)).isEqualTo(new Node.Constant(BigInteger.ZERO, 1));
    assertThat(plan.statements()).isEmpty();
  }

  @Test
  void node_choiceBetweenOneAndZero_isTheBitOrItsInverse() {
    Signal one = c.constant(1, 1);
    Signal zero = c.constant(0, 1);
    Signal bit = c.mux(c.bit(a, 3), one, zero);
    Signal inverse = c.mux(c.bit(a, 3), zero, one);
    Signal never = c.named(c.mux(c.bit(a, 4), zero, c.constant(0, 1)), "never");
    c.output("x", c.concat(List.of(bit, inverse, never)), "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.node(bit)).isEqualTo(new Node.Slice(a, 3, 1));
    assertThat(plan.node(inverse)).isInstanceOf(Node.Not.class);
    assertThat(plan.node(never)).isEqualTo(new Node.Constant(BigInteger.ZERO, 1));
    assertThat(plan.statements().stream().map(plan::name).flatMap(Optional::stream))
        .containsExactly("x");
  }

  @Test
  void node_choiceBetweenWiderConstants_stays() {
    Signal choice = c.mux(c.bit(a, 3), c.constant(1, 2), c.constant(0, 2));
    c.output("x", choice, "");
    assertThat(EmissionPlan.of(c.build()).node(choice)).isInstanceOf(Node.Select.class);
  }

  @Test
  void node_bitComparedWithConstant_isTheBitOrItsInverse() {
    Signal one = c.equal(c.bit(a, 2), 1);
    Signal zero = c.equal(c.bit(a, 2), 0);
    c.output("x", one, "").output("y", zero, "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.node(one)).isEqualTo(new Node.Slice(a, 2, 1));
    assertThat(plan.node(zero)).isInstanceOf(Node.Not.class);
  }

  @Test
  void node_operandsThatChangeNothing_areDropped() {
    Signal none = c.constant(0, 8);
    Signal all = c.constant(0xff, 8);
    Signal either = c.or(List.of(none, a, b));
    Signal both = c.and(List.of(a, all));
    Signal nothing = c.xor(List.of(none, none));
    Signal kept = c.and(List.of(a, none));
    c.output("w", either, "").output("x", both, "").output("y", nothing, "").output("z", kept, "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.node(either)).isEqualTo(new Node.Bitwise(Node.Operation.OR, List.of(a, b)));
    assertThat(plan.node(both)).isEqualTo(new Node.Slice(a, 0, 8));
    assertThat(plan.node(nothing)).isEqualTo(new Node.Constant(BigInteger.ZERO, 8));
    assertThat(plan.node(kept)).isInstanceOf(Node.Bitwise.class);
  }

  @Test
  void unread_someBits_areListed() {
    c.output("x", c.xor(List.of(c.slice(a, 2, 3), c.slice(a, 4, 3))), "");
    assertThat(EmissionPlan.of(c.build()).unread())
        .containsExactly(
            new EmissionPlan.UnreadBits("a", 8, 0, 2),
            new EmissionPlan.UnreadBits("a", 8, 7, 1),
            new EmissionPlan.UnreadBits("b", 8, 0, 8))
        .inOrder();
  }

  @Test
  void unread_deadRegister_leavesClockAndResetUnread() {
    c.drive(c.register("dead", 8, 0), a);
    c.output("x", c.and(List.of(a, b)), "");
    assertThat(EmissionPlan.of(c.build()).unread())
        .containsExactly(
            new EmissionPlan.UnreadBits("clock", 1, 0, 1),
            new EmissionPlan.UnreadBits("reset", 1, 0, 1))
        .inOrder();
  }

  @Test
  void memories_notRead_areLeftOut() {
    Memory dead = c.memory(new Memory("dead_ram", Memory.Kind.BLOCK, 4, 8, 1));
    Memory kept = c.memory(new Memory("kept_ram", Memory.Kind.BLOCK, 4, 8, 1));
    for (Memory memory : List.of(dead, kept)) {
      c.write(memory, c.bit(a, 0), c.slice(a, 1, 2), b);
    }
    c.output("x", c.read(kept, c.slice(b, 0, 2)), "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.memories()).containsExactly(kept);
    assertThat(plan.memoryName(kept)).isEqualTo("kept_ram");
  }

  @Test
  void instances_outputNotRead_getsUnusedSignal() {
    CircuitBuilder inner = Circuit.named("inner", "");
    Signal in = inner.input("value", 8, "");
    inner.output("p", inner.not(in), "").output("q", in, "");
    c.output("x", c.instance("one", inner.build(), Map.of("value", a)).get("q"), "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.unreadOutputs(0)).containsExactly("p", "unused_one_p");
    assertThat(plan.statements().stream().map(plan::name).flatMap(Optional::stream))
        .containsExactly("x");
  }

  @Test
  void caution_isWholeForTheOutermostBlock_andALineInside() {
    CircuitBuilder inner = Circuit.named("inner", "");
    inner.output("q", inner.not(inner.input("value", 8, "")), "");
    Circuit inside = inner.build();
    c.output("x", c.instance("one", inside, Map.of("value", a)).get("q"), "");
    Circuit top = c.build();
    EmissionPlans plans = new EmissionPlans(top);
    assertThat(plans.of(top).caution())
        .isEqualTo(
            "Figures of area, levels and speed are estimates. Timing closure and functional safety"
                + " are for the device vendor's sign-off tools, local codes and licensed practice"
                + " to establish.");
    assertThat(plans.of(inside).caution())
        .isEqualTo(
            "Figures are estimates; safety and timing need sign-off, local codes and licensed"
                + " practice.");
    assertThat(CommentText.wrap(plans.of(inside).caution(), 94)).hasSize(1);
  }

  @Test
  void heading_sectionWithoutStatement_isLeftOut() {
    c.section("nothing");
    c.constant(1, 1);
    c.section("logic");
    c.output("x", c.and(List.of(a, b)), "");
    EmissionPlan plan = EmissionPlan.of(c.build());
    assertThat(plan.heading(plan.statements().get(0))).hasValue("logic");
  }
}

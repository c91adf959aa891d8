package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.RegisterGroup;
import dev.lengthwise.circuit.text.TextSink;
import java.math.BigInteger;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/** Writes the clocked processes: registers that share an enable in one, each memory in its own. */
final class Processes {

  private final EmissionPlan plan;
  private final Expressions expressions;
  private final TextSink sink;
  private final Set<Memory> memoriesWritten = new LinkedHashSet<>();

  Processes(EmissionPlan plan, Expressions expressions, TextSink sink) {
    this.plan = plan;
    this.expressions = expressions;
    this.sink = sink;
  }

  /** Adds the processes of the registers and memories among the nodes at some places. */
  void write(List<Integer> places) {
    RegisterGroup.of(plan, places).forEach(this::registers);
    for (int place : places) {
      Node node = plan.node(place);
      if (node instanceof Node.RegisteredRead read && memoriesWritten.add(read.memory())) {
        memory(read.memory());
      } else if (node instanceof Node.DirectRead read && memoriesWritten.add(read.memory())) {
        memory(read.memory());
      }
    }
  }

  /** Returns the condition that a bit is 1, or empty for a constant 1. */
  private Optional<String> condition(Signal bit) {
    return expressions.constant(bit).isPresent()
        ? expressions.constant(bit).filter(c -> c.value().signum() == 0).map(c -> "false")
        : Optional.of(expressions.of(bit).primary() + " = '1'");
  }

  private void openProcess() {
    sink.line("process (clock)").open("begin").open("if rising_edge(clock) then");
  }

  private void closeProcess() {
    sink.close("end if;").close("end process;").blank();
  }

  private void registers(RegisterGroup group) {
    Optional<String> enable = group.enable().flatMap(this::condition);
    List<Integer> places = group.places();
    sink.blank();
    comments(places);
    openProcess();
    boolean reset = group.reset();
    if (reset) {
      boolean low = plan.circuit().reset() == Reset.ACTIVE_LOW;
      sink.line(low ? "if reset_n = '0' then" : "if reset = '1' then");
      for (int place : places) {
        Node.Register register = (Node.Register) plan.node(place);
        String value = Literals.constant(register.resetValue().orElseThrow(), register.width());
        Lines.add(sink, 1, plan.name(place).orElseThrow() + " <= " + value + ";");
      }
      sink.line(enable.map(condition -> "elsif " + condition + " then").orElse("else"));
    } else {
      enable.ifPresent(condition -> Lines.add(sink, "if " + condition + " then"));
    }
    boolean inner = reset || enable.isPresent();
    for (int place : places) {
      Signal next = plan.circuit().registerDrives().get(place).next();
      String value = expressions.of(next).text();
      Lines.add(sink, inner ? 1 : 0, plan.name(place).orElseThrow() + " <= " + value + ";");
    }
    if (inner) {
      sink.line("end if;");
    }
    closeProcess();
  }

  private void comments(List<Integer> places) {
    for (int place : places) {
      plan.circuit()
          .commentOn(place)
          .ifPresent(text -> sink.comment("--", plan.name(place).orElseThrow() + ": " + text));
    }
  }

  private void memory(Memory memory) {
    List<Integer> reads = plan.registeredReads(memory);
    sink.blank();
    comments(reads);
    openProcess();
    Optional<String> clear = clear(memory);
    clear.ifPresent(
        condition -> {
          Lines.add(sink, "if " + condition + " then");
          Lines.add(
              sink,
              1,
              plan.memoryName(memory)
                  + " <= (others => "
                  + Literals.constant(BigInteger.ZERO, memory.width())
                  + ");");
          sink.open("else");
        });
    write(memory);
    reads.forEach(this::read);
    if (clear.isPresent()) {
      sink.close("end if;");
    }
    closeProcess();
  }

  /** Returns the condition that clears a memory of registers, or empty for other memories. */
  private Optional<String> clear(Memory memory) {
    Optional<Signal> clear = plan.circuit().memoryWrites().get(memory).clear();
    if (clear.isEmpty()) {
      return Optional.empty();
    }
    List<String> conditions = new ArrayList<>();
    if (plan.circuit().isReset()) {
      boolean low = plan.circuit().reset() == Reset.ACTIVE_LOW;
      conditions.add(low ? "reset_n = '0'" : "reset = '1'");
    }
    conditions.add(condition(clear.get()).orElse("true"));
    return Optional.of(String.join(" or ", conditions));
  }

  /** Adds the write port; an address with an unknown bit writes nothing. */
  private void write(Memory memory) {
    Circuit.MemoryWrite write = plan.circuit().memoryWrites().get(memory);
    sink.open("if not " + expressions.isUnknown(write.address()) + " then");
    String word = plan.memoryName(memory) + "(" + expressions.index(write.address()) + ")";
    int laneBits = memory.width() / memory.lanes();
    for (int lane = 0; lane < memory.lanes(); lane++) {
      boolean whole = memory.lanes() == 1;
      String bits = whole ? "" : Expressions.bits(lane * laneBits, laneBits);
      Optional<String> condition =
          whole
              ? condition(write.enable())
              : Optional.of(expressions.of(write.enable()).text() + "(" + lane + ") = '1'");
      condition.ifPresent(c -> Lines.add(sink, "if " + c + " then"));
      Lines.add(
          sink,
          condition.isPresent() ? 1 : 0,
          word + bits + " <= " + expressions.of(write.data()).text() + bits + ";");
      if (condition.isPresent()) {
        sink.line("end if;");
      }
    }
    sink.close("end if;");
  }

  /**
   * Adds a read port; an address with an unknown bit reads an unknown word, and so does that of the
   * word that is written.
   */
  private void read(int place) {
    Node.RegisteredRead read = (Node.RegisteredRead) plan.node(place);
    String target = plan.name(place).orElseThrow() + " <= ";
    String word = plan.memoryName(read.memory()) + "(" + expressions.index(read.address()) + ");";
    Optional<String> enable = read.enable().flatMap(this::condition);
    enable.ifPresent(condition -> sink.open("if " + condition + " then"));
    String unknown = expressions.isUnknown(read.address());
    Lines.add(sink, "if " + unknown + collision(read) + " then");
    sink.line("  " + target + Literals.unknown(read.width()) + ";");
    sink.line("else");
    Lines.add(sink, 1, target + word);
    sink.line("end if;");
    if (enable.isPresent()) {
      sink.close("end if;");
    }
  }

  /** Returns the condition that the word is written too, behind an {@code or}. */
  private String collision(Node.RegisteredRead read) {
    Circuit.MemoryWrite write = plan.circuit().memoryWrites().get(read.memory());
    String same =
        expressions.address(write.address()).text()
            + " = "
            + expressions.address(read.address()).text();
    int lanes = read.memory().lanes();
    if (lanes > 1) {
      String none = Literals.constant(BigInteger.ZERO, lanes);
      return " or (" + expressions.of(write.enable()).text() + " /= " + none + " and " + same + ")";
    }
    return condition(write.enable())
        .map(writes -> " or (" + writes + " and " + same + ")")
        .orElse(" or " + same);
  }
}

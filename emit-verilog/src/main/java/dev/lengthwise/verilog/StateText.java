package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.TextSink;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/** Writes registers, those of one enable together, and memories. */
final class StateText {

  private final EmissionPlan plan;
  private final Circuit circuit;
  private final Statements statements;
  private final TextSink sink;

  StateText(EmissionPlan plan, Statements statements, TextSink sink) {
    this.plan = plan;
    this.circuit = plan.circuit();
    this.statements = statements;
    this.sink = sink;
  }

  void write() {
    Map<Optional<Signal>, List<Integer>> groups = new LinkedHashMap<>();
    for (int place : plan.statements()) {
      if (plan.node(place) instanceof Node.Register) {
        groups
            .computeIfAbsent(
                circuit.registerDrives().get(place).enable(), enable -> new ArrayList<>())
            .add(place);
      }
    }
    if (!groups.isEmpty()) {
      statements.section("Registers");
      groups.forEach(this::writeRegisters);
    }
    if (!plan.memories().isEmpty()) {
      statements.section("Memories; a word read while it is written is the old one");
      plan.memories().forEach(this::writeMemory);
    }
  }

  private void writeRegisters(Optional<Signal> enable, List<Integer> registers) {
    registers.forEach(statements::writeComment);
    sink.open("always @(posedge clock) begin");
    boolean reset = circuit.reset() != Reset.NONE;
    if (reset) {
      sink.open("if (" + (circuit.reset() == Reset.ACTIVE_LOW ? "!reset_n" : "reset") + ") begin");
      for (int place : registers) {
        Node.Register register = (Node.Register) plan.node(place);
        assign(place, Expressions.constant(register.resetValue(), register.width()));
      }
      sink.between(
          "end else "
              + enable
                  .map(signal -> "if (" + statements.expressions().value(signal) + ") ")
                  .orElse("")
              + "begin");
    } else {
      enable.ifPresent(
          signal -> sink.open("if (" + statements.expressions().value(signal) + ") begin"));
    }
    for (int place : registers) {
      assign(place, statements.expressions().value(circuit.registerDrives().get(place).next()));
    }
    if (reset || enable.isPresent()) {
      sink.close("end");
    }
    sink.close("end").blank();
  }

  private void assign(int place, String value) {
    statements.write(plan.name(place).orElseThrow() + " <=", List.of(" " + value));
  }

  private void writeMemory(Memory memory) {
    Circuit.MemoryWrite write = circuit.memoryWrites().get(memory);
    Expressions expressions = statements.expressions();
    String word = plan.memoryName(memory) + "[" + writeAddress(memory, write.address()) + "]";
    Optional<String> clear = write.clear().map(expressions::value);
    if (clear.isPresent()) {
      openCleared(memory, clear.get());
    } else {
      sink.open("always @(posedge clock) begin");
    }
    int lane = memory.width() / memory.lanes();
    for (int i = 0; i < memory.lanes(); i++) {
      String enable = expressions.value(write.enable());
      String data = expressions.value(write.data());
      sink.open("if (" + Expressions.bits(enable, memory.lanes(), i, 1) + ") begin");
      statements.write(
          Expressions.bits(word, memory.width(), i * lane, lane) + " <=",
          List.of(" " + Expressions.bits(data, memory.width(), i * lane, lane)));
      sink.close("end");
    }
    for (int place : plan.statements()) {
      if (plan.node(place) instanceof Node.SyncRead read && read.memory().equals(memory)) {
        writeRead(place, read);
      }
    }
    if (clear.isPresent()) {
      sink.close("end");
    }
    sink.close("end").blank();
  }

  /** Opens the process of a memory of registers and clears them one by one. */
  private void openCleared(Memory memory, String clear) {
    String name = plan.memoryName(memory);
    String index = plan.newName(name + "_index");
    String condition =
        switch (circuit.reset()) {
          case ACTIVE_HIGH -> "reset | " + clear;
          case ACTIVE_LOW -> "!reset_n | " + clear;
          case NONE -> clear;
        };
    sink.line("integer " + index + ";");
    sink.open("always @(posedge clock) begin");
    sink.open("if (" + condition + ") begin");
    sink.open(
        "for (%1$s = 0; %1$s < %2$d; %1$s = %1$s + 1) begin".formatted(index, memory.depth()));
    sink.line(name + "[" + index + "] <= " + Expressions.constant(0, memory.width()) + ";");
    sink.close("end");
    sink.between("end else begin");
  }

  /** A constant gets a wire: written at a constant address, a memory falls apart into registers. */
  private String writeAddress(Memory memory, Signal address) {
    if (!(plan.node(address) instanceof Node.Constant)) {
      return statements.expressions().value(address);
    }
    String name = plan.newName(plan.memoryName(memory) + "_address");
    String range = Expressions.range(address.width());
    statements.write(
        "wire " + (range.isEmpty() ? "" : range + " ") + name + " =",
        List.of(" " + statements.expressions().value(address)));
    return name;
  }

  private void writeRead(int place, Node.SyncRead read) {
    String word =
        plan.memoryName(read.memory()) + "[" + statements.expressions().value(read.address()) + "]";
    statements.writeComment(place);
    read.enable()
        .ifPresent(
            enable -> sink.open("if (" + statements.expressions().value(enable) + ") begin"));
    assign(place, word);
    if (read.enable().isPresent()) {
      sink.close("end");
    }
  }
}

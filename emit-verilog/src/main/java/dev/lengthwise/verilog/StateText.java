package dev.lengthwise.verilog;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.circuit.text.EmissionPlan;
import dev.lengthwise.circuit.text.RegisterGroup;
import dev.lengthwise.circuit.text.TextSink;
import java.util.List;
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
    List<RegisterGroup> groups = RegisterGroup.of(plan, plan.statements());
    if (!groups.isEmpty()) {
      statements.section("Registers");
      groups.forEach(this::writeRegisters);
    }
    if (!plan.memories().isEmpty()) {
      statements.section("Memories");
      plan.memories().forEach(this::writeMemory);
    }
  }

  private void writeRegisters(RegisterGroup group) {
    Optional<Signal> enable = group.enable();
    List<Integer> registers = group.places();
    registers.forEach(statements::writeComment);
    sink.open("always @(posedge clock) begin");
    if (group.reset()) {
      sink.open("if (" + (circuit.reset() == Reset.ACTIVE_LOW ? "!reset_n" : "reset") + ") begin");
      for (int place : registers) {
        Node.Register register = (Node.Register) plan.node(place);
        assign(place, Expressions.constant(register.resetValue().orElseThrow(), register.width()));
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
    if (group.reset() || enable.isPresent()) {
      sink.close("end");
    }
    sink.close("end").blank();
  }

  private void assign(int place, String value) {
    statements.write(plan.name(place).orElseThrow() + " <=", List.of(" " + value));
  }

  private void writeMemory(Memory memory) {
    if (memory.kind() == Memory.Kind.REGISTERS) {
      writeRegisters(memory);
      return;
    }
    Circuit.MemoryWrite write = circuit.memoryWrites().get(memory);
    Expressions expressions = statements.expressions();
    String address = writeAddress(memory, write.address());
    String word = plan.memoryName(memory) + "[" + address + "]";
    if (memory.kind() == Memory.Kind.BLOCK) {
      sink.comment("//", "A word that is read in the cycle that writes it is not defined.");
    }
    sink.open("always @(posedge clock) begin");
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
    plan.registeredReads(memory)
        .forEach(place -> writeRead(place, (Node.RegisteredRead) plan.node(place), address));
    sink.close("end").blank();
  }

  /** Writes the process of a memory of registers, a vector for each bit of a word. */
  private void writeRegisters(Memory memory) {
    Circuit.MemoryWrite write = circuit.memoryWrites().get(memory);
    Expressions expressions = statements.expressions();
    String clear = expressions.value(write.clear().orElseThrow());
    String address = writeAddress(memory, write.address());
    List<String> columns = expressions.columns(memory);
    sink.open("always @(posedge clock) begin");
    sink.open(
        switch (circuit.reset()) {
          case ACTIVE_HIGH -> "if (reset | " + clear + ") begin";
          case ACTIVE_LOW -> "if (~reset_n | " + clear + ") begin";
          case NONE -> "if (" + clear + ") begin";
        });
    columns.forEach(column -> sink.line(column + " <= {" + memory.depth() + "{1'b0}};"));
    sink.between("end else begin");
    int lane = memory.width() / memory.lanes();
    for (int i = 0; i < memory.lanes(); i++) {
      String enable = expressions.value(write.enable());
      sink.open("if (" + Expressions.bits(enable, memory.lanes(), i, 1) + ") begin");
      for (int bit = i * lane; bit < (i + 1) * lane; bit++) {
        String data = Expressions.bits(expressions.value(write.data()), memory.width(), bit, 1);
        statements.write(columns.get(bit) + "[" + address + "] <=", List.of(" " + data));
      }
      sink.close("end");
    }
    sink.close("end").close("end").blank();
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

  private void writeRead(int place, Node.RegisteredRead read, String writeAddress) {
    Expressions expressions = statements.expressions();
    String address = expressions.value(read.address());
    statements.writeComment(place);
    read.enable().ifPresent(enable -> sink.open("if (" + expressions.value(enable) + ") begin"));
    String writes =
        (read.memory().lanes() == 1 ? "" : "|")
            + expressions.value(circuit.memoryWrites().get(read.memory()).enable());
    statements.write(
        plan.name(place).orElseThrow() + " <=",
        List.of(
            " (" + writes + " && " + writeAddress + " == " + address + ")",
            " ? " + read.width() + "'bx",
            " : " + plan.memoryName(read.memory()) + "[" + address + "]"));
    if (read.enable().isPresent()) {
      sink.close("end");
    }
  }
}

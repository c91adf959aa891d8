package dev.lengthwise.realize.row;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.marks.MarkPorts;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** A lane array's outermost block: lanes, marks, state, and the registers of its pipeline cuts. */
public final class RowTop {

  /** The instance of the lanes beside the marks. */
  public static final String ROW = "row";

  /** What the names of registers begin with that take part in no mark. */
  public static final String HELD = "held_";

  /** The instance of the block of marks. */
  public static final String MARKS = "marks";

  private final LaneArray array;
  private final LateModes late;
  private final CircuitBuilder circuit;
  private final boolean lanesCut;
  private final boolean marksCut;
  private final boolean first;
  private Signal valid;
  private Signal running;
  private Signal redirect;
  private Signal offset;
  private final Map<String, Signal> modes = new LinkedHashMap<>();

  public RowTop(LaneArray array, LateModes late, Map<String, String> facts) {
    this.array = array;
    this.late = late;
    this.lanesCut = array.cuts().contains(PipelineCut.AFTER_LANES);
    this.marksCut = array.cuts().contains(PipelineCut.AFTER_MARKS);
    this.first = array.marking().isOfferedAgain();
    this.circuit =
        Circuit.named(
            array.name(),
            "Where instructions of "
                + array.lane().instructionSet().table().name()
                + " start in windows of "
                + array.windowBytes()
                + " bytes. A redirect comes with its window. After reset, and behind a start that"
                + " is not handled, nothing starts before one."
                + (array.latency() == 0
                    ? ""
                    : " Marks of windows taken before a redirect still come out: drop those that"
                        + " come before the redirected window's, "
                        + array.latency()
                        + (array.latency() == 1 ? " cycle" : " cycles")
                        + " behind it."));
    facts.forEach(circuit::fact);
  }

  /** Builds the block with the lanes in it. */
  public Circuit build(Circuit row, Circuit marks) {
    Signal code = code();
    valid = circuit.input("valid", 1, "1: there is a window");
    control(array.lane().instructionSet().table().modes());
    Map<String, Signal> rowInputs = new LinkedHashMap<>();
    modes.forEach(
        (mode, signal) -> {
          if (!late.names().contains(mode)) {
            rowInputs.put(Port.keyOfUser(mode), signal);
          }
        });
    rowInputs.put(LaneBlocks.CODE, code);
    circuit.section("Lanes");
    return build(marks, circuit.instance(ROW, row, rowInputs));
  }

  /** Builds the block for lanes elsewhere, whose answers are inputs. */
  public Circuit buildBehind(Circuit row, Circuit marks) {
    valid = circuit.input("valid", 1, "1: there are answers to a window");
    Map<String, Signal> answers = new LinkedHashMap<>();
    for (Port port : row.ports()) {
      if (port.direction() == Port.Direction.OUTPUT) {
        answers.put(port.key(), circuit.input(port.key(), port.width(), port.doc()));
      }
    }
    control(late.names());
    return build(marks, answers);
  }

  private Signal code() {
    Signal window =
        circuit.input("window", 8 * array.windowBytes(), "bytes, the first in bits 7 to 0");
    if (array.nextBytes() == 0) {
      return window;
    }
    Signal next = circuit.input("next_code", 8 * array.nextBytes(), "the bytes behind the window");
    return circuit.named(circuit.concat(List.of(window, next)), "code");
  }

  private void control(List<String> modesRead) {
    Signal stall = circuit.input("stall", 1, "1: all registers keep their values");
    running = circuit.named(circuit.not(stall), "running");
    redirect = circuit.input("redirect", 1, "1: the first item starts at redirect_offset");
    offset = circuit.input("redirect_offset", array.offsetBits(), "an offset in the window");
    for (String mode : modesRead) {
      modes.put(mode, circuit.userInput(mode, 1, "mode " + mode + " before any prefix"));
    }
  }

  private Circuit build(Circuit marks, Map<String, Signal> answers) {
    Map<String, Signal> given = new LinkedHashMap<>(answers);
    given.put("redirect_offset", offset);
    if (late.count() > 0) {
      given.put(
          MarkPorts.INITIAL,
          circuit.named(
              circuit.concat(late.names().stream().map(modes::get).toList()), MarkPorts.INITIAL));
    }
    return array.entryPlan().isPresent() ? buildPipeline(marks, given) : buildLoop(marks, given);
  }

  /** Builds the block around marks that hold the state and all registers themselves. */
  private Circuit buildPipeline(Circuit marks, Map<String, Signal> given) {
    given.put(MarkPorts.VALID, valid);
    given.put(MarkPorts.REDIRECT, redirect);
    given.put(MarkPorts.RUNNING, running);
    circuit.section("Marks");
    Map<String, Signal> outputs = circuit.instance(MARKS, marks, given);
    circuit.output("ready", running, "1: a window that is valid is taken; 0: offer it again");
    for (Port port : marks.ports()) {
      if (port.direction() == Port.Direction.OUTPUT) {
        circuit.output(port.key(), outputs.get(port.key()), port.doc());
      }
    }
    return circuit.build();
  }

  private Circuit buildLoop(Circuit marks, Map<String, Signal> given) {
    circuit.section("State");
    Signal carry = circuit.register("carry", array.carryBits(), 0);
    Signal changed = late.count() > 0 ? circuit.register("changed_modes", late.count(), 0) : null;
    Signal waiting = circuit.register("waiting", 1, 1);
    Cut cut = lanesCut ? cutAfterLanes(given) : new Cut(valid, redirect, given, Map.of());
    Map<String, Signal> outputs = marks(marks, cut, carry, changed, waiting);
    Signal takes = circuit.named(circuit.and(List.of(cut.valid(), running)), "takes_over");
    circuit.drive(carry, outputs.get(MarkPorts.NEXT_CARRY), takes);
    circuit.drive(waiting, outputs.get(MarkPorts.NEXT_WAITING), takes);
    if (changed != null) {
      circuit.drive(changed, outputs.get(MarkPorts.NEXT_CHANGED), takes);
    }
    Signal ready = ready(cut, outputs);
    circuit.output(
        "ready", ready, "1: a window that is valid is taken; 0: offer it again, no redirect");
    answers(marks, outputs, cut.valid());
    circuit.output("carry", carry, "where the next window's first item starts");
    if (changed != null) {
      circuit.output("changed_modes", changed, "late modes that a prefix before it has changed");
    }
    circuit.output("waiting", waiting, "1: nothing starts before a redirect");
    return circuit.build();
  }

  /** What the marks read: the inputs, or the registers of the cut after the lanes. */
  private record Cut(
      Signal valid, Signal redirect, Map<String, Signal> values, Map<Signal, Signal> registers) {}

  private Cut cutAfterLanes(Map<String, Signal> given) {
    circuit.section("Cut after the lanes");
    Map<String, Signal> held = new LinkedHashMap<>();
    Map<Signal, Signal> registers = new LinkedHashMap<>();
    given.forEach(
        (name, signal) -> {
          Signal register = circuit.dataRegister(HELD + name, signal.width());
          held.put(name, register);
          registers.put(register, signal);
        });
    return new Cut(
        circuit.register(HELD + "valid", 1, 0),
        circuit.register(HELD + "redirect", 1, 0),
        held,
        registers);
  }

  private Map<String, Signal> marks(
      Circuit marks, Cut cut, Signal carry, Signal changed, Signal waiting) {
    circuit.section("Marks");
    Map<String, Signal> inputs = new LinkedHashMap<>(cut.values());
    Signal target = circuit.extend(inputs.remove("redirect_offset"), array.carryBits());
    inputs.put(
        MarkPorts.FIRST,
        circuit.named(circuit.mux(cut.redirect(), target, carry), MarkPorts.FIRST));
    inputs.put(
        MarkPorts.STOPPED,
        circuit.named(
            circuit.and(List.of(waiting, circuit.not(cut.redirect()))), MarkPorts.STOPPED));
    if (changed != null) {
      Signal initial = inputs.get(MarkPorts.INITIAL);
      inputs.put(
          MarkPorts.WORD,
          circuit.named(
              circuit.mux(cut.redirect(), initial, circuit.xor(List.of(initial, changed))),
              MarkPorts.WORD));
    }
    return circuit.instance(MARKS, marks, inputs);
  }

  /** Connects the cut's registers and returns the output of the same name. */
  private Signal ready(Cut cut, Map<String, Signal> outputs) {
    Signal used = outputs.get(MarkPorts.USED);
    if (!lanesCut) {
      return first ? circuit.and(List.of(running, used)) : running;
    }
    Signal ready = running;
    if (first) {
      List<Signal> reasons =
          List.of(circuit.not(cut.valid()), used, circuit.and(List.of(valid, redirect)));
      ready = circuit.named(circuit.and(List.of(running, circuit.or(reasons))), "takes_a_window");
    }
    Signal takes = ready;
    circuit.drive(cut.valid(), valid, takes);
    cut.registers().forEach((register, signal) -> circuit.drive(register, signal, takes));
    if (first) {
      circuit.drive(
          cut.redirect(),
          circuit.comment(
              circuit.and(List.of(redirect, takes)),
              "a window that stays was redirected when its first items came out"),
          running);
    } else {
      circuit.drive(cut.redirect(), redirect, takes);
    }
    return ready;
  }

  /** Adds the outputs of the marks, behind registers if the array has that cut. */
  private void answers(Circuit marks, Map<String, Signal> outputs, Signal marking) {
    List<String> inner =
        List.of(
            MarkPorts.USED, MarkPorts.NEXT_CARRY, MarkPorts.NEXT_CHANGED, MarkPorts.NEXT_WAITING);
    List<Port> shown = new ArrayList<>();
    for (Port port : marks.ports()) {
      if (port.direction() == Port.Direction.OUTPUT && !inner.contains(port.key())) {
        shown.add(port);
      }
    }
    Signal isValid = marking;
    if (marksCut) {
      circuit.section("Cut after the marks");
      isValid = circuit.register("shown_valid", 1, 0);
      circuit.drive(isValid, marking, running);
    }
    circuit.output("marks_valid", isValid, "1: the marks are those of a window");
    for (Port port : shown) {
      Signal value = outputs.get(port.key());
      if (marksCut) {
        Signal register = circuit.dataRegister("shown_" + port.key(), port.width());
        circuit.drive(register, value, running);
        value = register;
      }
      circuit.output(port.key(), value, port.doc());
    }
  }
}

package dev.lengthwise.realize.cells;

import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.CodeUnit;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/** The input ports of a lane, or of a block inside it that sees the same bytes. */
public final class LanePorts {

  public static final String CODE = "code";
  public static final String LENGTH = "length";

  private final CircuitBuilder circuit;
  private final CodeUnit unit;
  private final Signal code;
  private final Map<String, Signal> modes = new LinkedHashMap<>();

  public LanePorts(CircuitBuilder circuit, Predecoder lane, int bytesSeen) {
    this(circuit, lane, bytesSeen, List.of());
  }

  /** Adds the ports of a block for which some modes are known. */
  public LanePorts(
      CircuitBuilder circuit, Predecoder lane, int bytesSeen, List<String> knownModes) {
    this.circuit = circuit;
    this.unit = lane.instructionSet().table().unit();
    this.code =
        circuit.input(CODE, 8 * bytesSeen, "the bytes that the lane sees, its own in bits 7 to 0");
    for (String mode : lane.instructionSet().table().modes()) {
      if (!knownModes.contains(mode)) {
        modes.put(mode, circuit.userInput(mode, 1, "mode " + mode));
      }
    }
  }

  private LanePorts(LanePorts other, Map<String, Boolean> known) {
    this.circuit = other.circuit;
    this.unit = other.unit;
    this.code = other.code;
    modes.putAll(other.modes);
    known.forEach((mode, value) -> modes.put(mode, circuit.constant(value ? 1 : 0, 1)));
  }

  /** Returns the same ports with values for the modes that are known. */
  public LanePorts with(Map<String, Boolean> known) {
    return new LanePorts(this, known);
  }

  public Signal code() {
    return code;
  }

  /** Returns the mode signals in the order of the bits of a mode word. */
  public Map<String, Signal> modes() {
    return modes;
  }

  /** Returns a byte, counted from the lane's own. */
  public Signal byteAt(int position) {
    return circuit.slice(code, 8 * position, 8);
  }

  /** Returns a code unit, in the order of its bytes. */
  public Signal unitAt(int position) {
    return switch (unit) {
      case BYTE -> byteAt(position);
      case WORD_LITTLE_ENDIAN -> circuit.slice(code, 8 * position, 16);
      case WORD_BIG_ENDIAN -> circuit.concat(List.of(byteAt(position + 1), byteAt(position)));
    };
  }

  /** Returns the bits of some modes, the first in bit 0. */
  List<Signal> signals(List<String> names) {
    List<Signal> found = new ArrayList<>();
    names.forEach(name -> found.add(modes.get(name)));
    return found;
  }
}

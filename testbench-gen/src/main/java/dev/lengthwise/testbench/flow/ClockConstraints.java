package dev.lengthwise.testbench.flow;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.DesignOutput;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Prints {@code constraints/<design>.sdc}: the clock of a design, and which of its inputs do not
 * change while it runs. A design without a clock has none. Immutable.
 *
 * <p>The two commands are those that synthesis tools read from such files: common practice, no
 * source.
 */
public final class ClockConstraints implements DesignOutput {

  /** What is aimed at where nobody says: more than a path of one LUT reaches. */
  private static final double AIM_MHZ = 400;

  private static final double MOST_NS = 1e6;
  private static final double NS_OF_MHZ = 1000;
  private static final Pattern PERIOD = Pattern.compile("create_clock .*-period ([0-9.]+) ");

  private final double period;
  private final List<String> still;

  private ClockConstraints(double period, List<String> still) {
    this.period = period;
    this.still = still;
  }

  /**
   * Returns constraints without inputs that do not change.
   *
   * @param nanoseconds from one rising edge to the next, in [0.001, 1e6]
   * @return the constraints
   * @throws IllegalArgumentException if the period is out of range
   */
  public static ClockConstraints of(double nanoseconds) {
    if (!(nanoseconds >= 0.001 && nanoseconds <= MOST_NS)) {
      throw new IllegalArgumentException(
          "clock constraints: a period must be in [0.001, 1e6] ns, found " + nanoseconds);
    }
    return new ClockConstraints(nanoseconds, List.of());
  }

  /**
   * Returns constraints with one more input that does not change while the design runs, such as a
   * mode that is set once.
   *
   * @param input the name of a port
   * @return new constraints
   * @throws IllegalArgumentException if the input is given twice
   */
  public ClockConstraints withStill(String input) {
    Objects.requireNonNull(input, "input");
    if (still.contains(input)) {
      throw new IllegalArgumentException(
          "clock constraints: an input is given once, found " + input + " again");
    }
    List<String> more = new ArrayList<>(still);
    more.add(input);
    return new ClockConstraints(period, List.copyOf(more));
  }

  /**
   * Prints the constraints.
   *
   * @param design the design
   * @return one file, or none if the design has no clock
   * @throws IllegalStateException if it has no input of a name that was given
   */
  @Override
  public List<OutputFile> files(Design design) {
    Circuit circuit = design.circuit();
    for (String input : still) {
      if (circuit.ports().stream().noneMatch(port -> isInput(port, input))) {
        throw new IllegalStateException(
            "clock constraints: an input of " + design.name() + " is expected, found " + input);
      }
    }
    return circuit.isClocked()
        ? List.of(new OutputFile("constraints/" + design.name() + ".sdc", text()))
        : List.of();
  }

  private static boolean isInput(Port port, String name) {
    return port.direction() == Port.Direction.INPUT && port.name().equals(name);
  }

  private String text() {
    StringBuilder text = new StringBuilder();
    text.append(
        String.format(
            Locale.ROOT, "create_clock -name clock -period %.3f [get_ports {clock}]\n", period));
    still.forEach(
        input -> text.append("set_false_path -from [get_ports {").append(input).append("}]\n"));
    return text.toString();
  }

  /** Returns the clock that the constraints of a written design state, in MHz. */
  static String megahertz(Path tree, String design) {
    Path file = tree.resolve("constraints").resolve(design + ".sdc");
    double mhz = AIM_MHZ;
    if (Files.exists(file)) {
      try {
        Matcher stated = PERIOD.matcher(Files.readString(file));
        if (stated.find()) {
          mhz = NS_OF_MHZ / Double.parseDouble(stated.group(1));
        }
      } catch (IOException e) {
        throw new UncheckedIOException(e);
      }
    }
    return String.format(Locale.ROOT, "%.3f", mhz);
  }
}

package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.circuit.Reset;
import dev.lengthwise.circuit.simulate.CircuitSimulator;
import dev.lengthwise.circuit.text.FileHead;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigInteger;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Compares emitted text in GHDL with the built-in simulator, cycle by cycle, on random inputs.
 *
 * <p>The built-in simulator starts from a known state; so that the text does too, the signals of a
 * copy of it get initial values: their reset values, or 0.
 */
final class SimulationBench {

  private static final Pattern RESET =
      Pattern.compile("if reset(?:_n)? = '[01]' then\n((?: +\\w+ <= [^;]+;\n)+)");
  private static final Pattern ASSIGNMENT = Pattern.compile("(\\w+) <= ([^;]+);");
  private static final Pattern SIGNAL = Pattern.compile("  signal (\\w+) *: ([^;]+);");
  private static final Pattern ARRAY_OF_BITS =
      Pattern.compile("type (\\w+) is array \\(0 to \\d+\\) of std_logic;");

  private final Circuit circuit;
  private final Path directory;
  private final List<Port> inputs = new ArrayList<>();
  private final List<Port> outputs = new ArrayList<>();

  SimulationBench(Circuit circuit, Path directory) {
    this.circuit = circuit;
    this.directory = directory;
    for (Port port : FileHead.ports(circuit)) {
      if (port.direction() == Port.Direction.OUTPUT) {
        outputs.add(port);
      } else if (!port.name().equals("clock")) {
        inputs.add(port);
      }
    }
  }

  /** Simulates and returns what GHDL printed, for sources that were written before. */
  Tools.Result run(String edition, List<Path> sources, int cycles, long seed) {
    try {
      for (Path source : sources) {
        Files.writeString(source, started(Files.readString(source)));
      }
      Files.writeString(directory.resolve("vectors.txt"), vectors(cycles, seed));
      Path bench = directory.resolve("bench.vhd");
      Files.writeString(bench, bench());
      List<String> analyse = new ArrayList<>(List.of("ghdl", "-a", "--std=" + edition));
      sources.forEach(source -> analyse.add(source.toString()));
      analyse.add(bench.toString());
      Tools.Result analysis = Tools.run(directory, analyse);
      return analysis.exit() != 0
          ? analysis
          : Tools.run(directory, List.of("ghdl", "-r", "--std=" + edition, "bench"));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Returns a text whose signals have initial values. */
  private static String started(String text) {
    Map<String, String> values = new HashMap<>();
    RESET
        .matcher(text)
        .results()
        .forEach(
            block ->
                ASSIGNMENT
                    .matcher(block.group(1))
                    .results()
                    .forEach(one -> values.put(one.group(1), one.group(2))));
    List<String> bitArrays =
        ARRAY_OF_BITS.matcher(text).results().map(found -> found.group(1)).toList();
    return SIGNAL
        .matcher(text)
        .replaceAll(
            found -> {
              String type = found.group(2);
              String zero =
                  type.equals("std_logic")
                      ? "'0'"
                      : type.startsWith("std_logic_vector") || bitArrays.contains(type)
                          ? "(others => '0')"
                          : "(others => (others => '0'))";
              String value = values.getOrDefault(found.group(1), zero);
              return Matcher.quoteReplacement(
                  "  signal " + found.group(1) + " : " + type + " := " + value + ";");
            });
  }

  /** Returns a line for each cycle: all inputs, a space, all outputs, as digits. */
  private String vectors(int cycles, long seed) {
    Random random = new Random(seed);
    CircuitSimulator simulator = CircuitSimulator.of(circuit);
    StringBuilder text = new StringBuilder();
    for (int cycle = 0; cycle < cycles; cycle++) {
      for (Port port : inputs) {
        if (port.name().equals("reset") || port.name().equals("reset_n")) {
          boolean active = random.nextInt(16) == 0;
          simulator.reset(active);
          text.append(active == (circuit.reset() == Reset.ACTIVE_HIGH) ? '1' : '0');
        } else {
          BigInteger value = value(port.width(), random);
          simulator.set(simulator.input(port.name()), words(value, port.width()));
          text.append(digits(value, port.width()));
        }
      }
      text.append(inputs.isEmpty() ? "" : " ");
      for (Port port : outputs) {
        long[] words = new long[(port.width() + 63) / 64];
        simulator.get(simulator.output(port.name()), words);
        text.append(digits(number(words), port.width()));
      }
      text.append('\n');
      simulator.tick();
    }
    return text.toString();
  }

  private static BigInteger value(int width, Random random) {
    return switch (random.nextInt(8)) {
      case 0 -> BigInteger.ZERO;
      case 1 -> BigInteger.ONE.shiftLeft(width).subtract(BigInteger.ONE);
      default -> new BigInteger(width, random);
    };
  }

  private static long[] words(BigInteger value, int width) {
    long[] words = new long[(width + 63) / 64];
    for (int i = 0; i < words.length; i++) {
      words[i] = value.shiftRight(64 * i).longValue();
    }
    return words;
  }

  private static BigInteger number(long[] words) {
    BigInteger value = BigInteger.ZERO;
    for (int i = words.length - 1; i >= 0; i--) {
      value = value.shiftLeft(64).or(new BigInteger(Long.toUnsignedString(words[i])));
    }
    return value;
  }

  private static String digits(BigInteger value, int width) {
    String digits = value.toString(2);
    return "0".repeat(width - digits.length()) + digits;
  }

  private String bench() {
    List<Port> ports = FileHead.ports(circuit);
    return """
    library ieee;
    use ieee.std_logic_1164.all;
    use std.textio.all;
    entity bench is end entity;
    architecture test of bench is
      SIGNALS
    begin
      dut : entity work.BLOCK port map (MAP);
      process
        file vectors : text open read_mode is "vectors.txt";
        variable row : line;
        variable given : bit_vector(GIVEN - 1 downto 0);
        variable expected : bit_vector(EXPECTED - 1 downto 0);
        variable cycles : natural := 0;
      begin
        dut_clock <= '0';
        while not endfile(vectors) loop
          readline(vectors, row);
          READ
          read(row, expected);
          APPLY
          wait for 5 ns;
          assert std_logic_vector'(FOUND) = to_stdlogicvector(expected)
            report "wrong in cycle " & integer'image(cycles) severity failure;
          dut_clock <= '1';
          wait for 5 ns;
          dut_clock <= '0';
          cycles := cycles + 1;
        end loop;
        report "equal in cycles: " & integer'image(cycles);
        wait;
      end process;
    end architecture;
    """
        .replace(
            "SIGNALS",
            (circuit.isClocked() ? "" : "signal dut_clock : std_logic;\n  ")
                + ports.stream()
                    .map(p -> "signal dut_" + p.name() + " : " + Literals.subtype(p.width()) + ";")
                    .collect(Collectors.joining("\n  ")))
        .replace("BLOCK", circuit.name())
        .replace(
            "MAP",
            ports.stream()
                .map(p -> p.name() + " => dut_" + p.name())
                .collect(Collectors.joining(", ")))
        .replace("GIVEN", String.valueOf(inputs.stream().mapToInt(Port::width).sum()))
        .replace("EXPECTED", String.valueOf(outputs.stream().mapToInt(Port::width).sum()))
        .replace("READ", inputs.isEmpty() ? "" : "read(row, given);")
        .replace("APPLY", apply())
        .replace(
            "FOUND",
            "\"\" & "
                + outputs.stream().map(p -> "dut_" + p.name()).collect(Collectors.joining(" & ")));
  }

  private String apply() {
    StringBuilder text = new StringBuilder();
    int high = inputs.stream().mapToInt(Port::width).sum();
    for (Port port : inputs) {
      high -= port.width();
      text.append("dut_").append(port.name()).append(" <= ");
      text.append(port.width() == 1 ? "to_stdulogic(given(" : "to_stdlogicvector(given(");
      text.append(
          port.width() == 1 ? String.valueOf(high) : (high + port.width() - 1) + " downto " + high);
      text.append("));\n      ");
    }
    return text.toString();
  }
}

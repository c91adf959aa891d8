package dev.lengthwise.testbench.bench;

import dev.lengthwise.testbench.cycle.CycleFields;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Prints the self-checking VHDL bench of a clocked design, within what the editions of 1993 and
 * 2008 share. Signals at the design's ports start with {@code dut_}.
 */
public final class VhdlCycleBench {

  private final CycleFields fields;
  private final Map<String, Integer> low;

  private final BenchNames names;

  private VhdlCycleBench(String design, CycleFields fields) {
    this.fields = fields;
    this.names = new BenchNames(design, TEMPLATE, fields.counters().size(), "dut_");
    this.low = fields.lowBits();
  }

  public static String text(String name, CycleFields fields) {
    return new VhdlCycleBench(name, fields).text(name);
  }

  private String text(String name) {
    StringBuilder signals = new StringBuilder();
    StringBuilder ports = new StringBuilder();
    StringBuilder assignments = new StringBuilder();
    StringBuilder comparisons = new StringBuilder();
    for (CycleFields.Input input : fields.inputs()) {
      signals.append(signal(input.port(), input.width()));
      ports.append(
          String.format(
              Locale.ROOT, ",\n            %s => %s", input.port(), names.of(input.port())));
      assignments.append(
          String.format(
              Locale.ROOT,
              "        %s <= %s;\n",
              names.of(input.port()),
              field(input.port(), input.width())));
    }
    for (CycleFields.Output output : fields.outputs()) {
      signals.append(signal(output.port(), output.width()));
      ports.append(
          String.format(
              Locale.ROOT, ",\n            %s => %s", output.port(), names.of(output.port())));
      comparisons.append(comparison(output));
    }
    StringBuilder counters = new StringBuilder();
    StringBuilder counts = new StringBuilder();
    StringBuilder reports = new StringBuilder();
    for (int i = 0; i < fields.counters().size(); i++) {
      CycleFields.Counter counter = fields.counters().get(i);
      counters.append(String.format(Locale.ROOT, "    variable counted_%d  : natural := 0;\n", i));
      counts.append(
          String.format(Locale.ROOT, "        if index >= 0 and %s then\n", condition(counter)));
      counts.append(
          String.format(
              Locale.ROOT, "          counted_%1$d := counted_%1$d + 1;\n        end if;\n", i));
      reports.append(
          String.format(
              Locale.ROOT,
              "    say(\"  %s: \" & integer'image(counted_%d));\n",
              counter.label(),
              i));
    }
    return TEMPLATE
        .replace("@NAME@", name)
        .replace("@WORD@", Integer.toString(fields.wordBits()))
        .replace("@CHECKS@", Integer.toString(low.get(CycleFields.CHECKS)))
        .replace("@SIGNALS@", signals)
        .replace("@PORTS@", ports)
        .replace("@ASSIGNMENTS@", assignments)
        .replace("@COMPARISONS@", comparisons)
        .replace("@COUNTERS@", counters)
        .replace("@COUNTS@", counts)
        .replace("@REPORTS@", reports);
  }

  private String condition(CycleFields.Counter counter) {
    List<String> terms = new ArrayList<>();
    if (counter.check() >= 0) {
      terms.add("checks(" + counter.check() + ") = '1'");
    }
    counter.ones().forEach(port -> terms.add(names.of(port) + " = '1'"));
    counter.zeros().forEach(port -> terms.add(names.of(port) + " = '0'"));
    return String.join(" and ", terms);
  }

  private String signal(String port, int width) {
    return String.format(
        Locale.ROOT,
        "  signal %s : %s;\n",
        names.of(port),
        width == 1 ? "std_logic" : "std_logic_vector(" + (width - 1) + " downto 0)");
  }

  private String field(String port, int width) {
    int from = low.get(port);
    return width == 1
        ? "word(" + from + ")"
        : "word(" + (from + width - 1) + " downto " + from + ")";
  }

  private String comparison(CycleFields.Output output) {
    String and =
        output.onlyWith().isEmpty() ? "" : " and " + field(output.onlyWith(), 1) + " = '1'";
    boolean single = output.width() == 1;
    String expected = field(output.port(), output.width());
    String found = names.of(output.port());
    return String.format(
        Locale.ROOT,
        "        if checks(%d) = '1'%s then\n          compare(\"%s\", %s, %s);\n        end if;\n",
        output.check(),
        and,
        output.port(),
        single ? "'0' & " + expected : expected,
        single ? "'0' & " + found : found);
  }

  private static final String TEMPLATE =
      """
      -- Self-checking bench of @NAME@.
      -- Reads golden vectors, one cycle a line, applies the inputs of each and compares the outputs
      -- that are fixed in it. Prints the number of cycles, what they cover and the first mismatches;
      -- ends with a failure if there is one.
      -- The vectors are read from the file that the generic vectors_file names; its first line
      -- counts them.
      -- IEEE 1076-2008, and of it only what 1076-1993 has too.

      library ieee;
      use ieee.std_logic_1164.all;
      use ieee.numeric_std.all;
      use std.textio.all;

      entity @NAME@_tb is
        generic (
          vectors_file : string := "../vectors/@NAME@.hex"
        );
      end entity @NAME@_tb;

      architecture bench of @NAME@_tb is

        constant SHOWN     : natural := 10;
        constant WORD_BITS : natural := @WORD@;

        -- The bits of hexadecimal digits, unknown if a character is none.
        function bits_of(digits : string) return std_logic_vector is
          variable bits  : std_logic_vector(4 * digits'length - 1 downto 0) := (others => '0');
          variable value : natural;
          variable from  : integer := bits'high;
        begin
          for i in digits'range loop
            case digits(i) is
              when '0' to '9' => value := character'pos(digits(i)) - character'pos('0');
              when 'a' to 'f' => value := character'pos(digits(i)) - character'pos('a') + 10;
              when others     => return (bits'range => 'X');
            end case;
            bits(from downto from - 3) := std_logic_vector(to_unsigned(value, 4));
            from := from - 4;
          end loop;
          return bits;
        end function bits_of;

        -- Bits as text, the highest first.
        function image(bits : std_logic_vector) return string is
          variable left_to_right : std_logic_vector(1 to bits'length) := bits;
          variable text          : string(1 to bits'length);
        begin
          for i in text'range loop
            if left_to_right(i) = '1' then
              text(i) := '1';
            elsif left_to_right(i) = '0' then
              text(i) := '0';
            else
              text(i) := 'x';
            end if;
          end loop;
          return text;
        end function image;

        procedure say(text : in string) is
          variable row : line;
        begin
          write(row, text);
          writeline(output, row);
        end procedure say;

        signal dut_clock : std_logic := '0';
        signal dut_reset : std_logic := '1';
      @SIGNALS@
      begin

        dut : entity work.@NAME@
          port map (
            clock => dut_clock,
            reset => dut_reset@PORTS@
          );

        check : process
          file     vectors    : text;
          variable opened     : file_open_status;
          variable row        : line;
          variable word       : std_logic_vector(WORD_BITS - 1 downto 0) := (others => '0');
          variable checks     : std_logic_vector(7 downto 0);
          variable count      : natural := 0;
          variable cycle      : integer;
          variable mismatches : natural := 0;
      @COUNTERS@
          procedure compare(port_name : in string;
                            expected  : in std_logic_vector;
                            found     : in std_logic_vector) is
          begin
            if found /= expected then
              mismatches := mismatches + 1;
              if mismatches <= SHOWN then
                say("mismatch at cycle " & integer'image(cycle) & ": " & port_name & " expected "
                    & image(expected) & " found " & image(found));
              end if;
            end if;
          end procedure compare;

        begin
          file_open(opened, vectors, vectors_file, read_mode);
          if opened = open_ok then
            if not endfile(vectors) then
              readline(vectors, row);
              if row'length = 8 then
                count := to_integer(unsigned(bits_of(row.all)));
              end if;
            end if;
          end if;
          if count = 0 then
            say("FAIL @NAME@: no vectors in " & vectors_file);
            report "vectors cannot be read" severity failure;
          end if;
          for index in -2 to count - 1 loop
            cycle := index;
            -- two cycles of reset come first
            if index >= 0 then
              dut_reset <= '0';
              word := (others => 'X');
              if not endfile(vectors) then
                readline(vectors, row);
                if row'length = WORD_BITS / 4 then
                  word := bits_of(row.all);
                end if;
              end if;
              if is_x(word) then
                say("FAIL @NAME@: no vector " & integer'image(index) & " in " & vectors_file);
                report "vectors cannot be read" severity failure;
              end if;
            end if;
            checks := word(@CHECKS@ + 7 downto @CHECKS@);
      @ASSIGNMENTS@        wait for 1 ns;
      @COMPARISONS@@COUNTS@        dut_clock <= '1';
            wait for 1 ns;
            dut_clock <= '0';
          end loop;
          say("vectors: " & integer'image(count));
      @REPORTS@    say("mismatches: " & integer'image(mismatches));
          if mismatches /= 0 then
            say("FAIL @NAME@");
            report "the circuit differs from the golden vectors" severity failure;
          end if;
          say("PASS @NAME@");
          wait;
        end process check;

      end architecture bench;
      """;
}

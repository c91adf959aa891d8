package dev.lengthwise.testbench.bench;

import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.vector.LaneVectors;
import dev.lengthwise.testbench.vector.VectorKind;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * Prints the self-checking VHDL bench of a lane. It keeps to what the editions of 1993 and 2008
 * share, so that it can be simulated together with RTL of either edition. Signals at the lane's
 * ports start with {@code dut_}.
 */
public final class VhdlLaneBench {

  private VhdlLaneBench() {}

  public static String text(Design design, LaneVectors vectors) {
    List<String> modes = design.lane().instructionSet().table().modes();
    BenchNames names = new BenchNames(design.name(), TEMPLATE, 0, "dut_");
    int lengthBits = design.lane().lengthBits();
    int longest = Math.max(6, modes.stream().mapToInt(String::length).max().orElse(0));
    StringBuilder assignModes = new StringBuilder();
    for (int i = 0; i < modes.size(); i++) {
      assignModes.append(
          String.format(Locale.ROOT, "      %s <= modes(%s);\n", names.of(modes.get(i)), i));
    }
    return TEMPLATE
        .replace("@NAME@", design.name())
        .replace("@COUNT@", Integer.toString(vectors.vectors().size()))
        .replace("@WORD@", Integer.toString(vectors.wordBits()))
        .replace("@CODE@", Integer.toString(8 * (1 + design.lane().lookahead())))
        .replace("@LENGTH@", Integer.toString(lengthBits))
        .replace(
            "@LENGTH_TYPE@",
            lengthBits == 1 ? "std_logic" : "std_logic_vector(" + (lengthBits - 1) + " downto 0)")
        .replace("@KINDS@", Integer.toString(VectorKind.values().length - 1))
        .replace(
            "@MODE_SIGNALS@",
            each(
                modes,
                "  signal %s : std_logic;\n",
                mode -> List.of(padded(names.of(mode), longest + 4))))
        .replace(
            "@MODE_PORTS@",
            each(
                modes, "      %s => %s,\n", mode -> List.of(padded(mode, longest), names.of(mode))))
        .replace("@ASSIGN_MODES@", assignModes)
        .replace(
            "@MODE_TEXT@",
            each(
                modes,
                "              & \" %s \" & hex(\"000\" & %s)\n",
                mode -> List.of(mode, names.of(mode))))
        .replace("@CODE_NAME@", padded("code", longest))
        .replace("@LENGTH_NAME@", padded("length", longest))
        .replace("@COVERAGE@", coverage(vectors.counts()));
  }

  /** Returns a line for each mode. */
  private static String each(
      List<String> modes, String format, Function<String, List<String>> arguments) {
    return modes.stream()
        .map(mode -> String.format(Locale.ROOT, format, arguments.apply(mode).toArray()))
        .collect(Collectors.joining());
  }

  private static String padded(String name, int longest) {
    return name + " ".repeat(Math.max(0, longest - name.length()));
  }

  private static String coverage(Map<VectorKind, Integer> counts) {
    StringBuilder text = new StringBuilder();
    int index = 0;
    for (Map.Entry<VectorKind, Integer> entry : counts.entrySet()) {
      text.append(
          String.format(
              Locale.ROOT,
              "    say(\"  %s: \" & integer'image(ran(%s)) & \" of %s\");\n",
              entry.getKey().label(),
              index++,
              entry.getValue()));
    }
    return text.toString();
  }

  private static final String TEMPLATE =
      """
      -- Self-checking bench of @NAME@.
      -- Reads golden vectors, applies each, and compares the length. Prints the number of vectors,
      -- what they cover and the first mismatches; ends with a failure if there is one.
      -- The vectors are read from the file that the generic vectors_file names.
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

        constant COUNT       : natural := @COUNT@;
        constant SHOWN       : natural := 10;
        constant WORD_BITS   : natural := @WORD@;
        constant CODE_BITS   : natural := @CODE@;
        constant LENGTH_BITS : natural := @LENGTH@;

        -- The bits of hexadecimal digits, unknown if a character is none.
        function bits_of(digits : string) return std_logic_vector is
          variable bits  : std_logic_vector(4 * digits'length - 1 downto 0) := (others => '0');
          variable value : natural;
        begin
          for i in digits'range loop
            case digits(i) is
              when '0' to '9' => value := character'pos(digits(i)) - character'pos('0');
              when 'a' to 'f' => value := character'pos(digits(i)) - character'pos('a') + 10;
              when others     => return (bits'range => 'X');
            end case;
            bits := bits(bits'high - 4 downto 0) & std_logic_vector(to_unsigned(value, 4));
          end loop;
          return bits;
        end function bits_of;

        -- Hexadecimal digits of bits, four for each.
        function hex(bits : std_logic_vector) return string is
          constant DIGITS : string(1 to 16) := "0123456789abcdef";
          variable rest   : std_logic_vector(bits'length - 1 downto 0) := bits;
          variable text   : string(1 to bits'length / 4);
        begin
          for i in text'range loop
            text(i) := DIGITS(to_integer(unsigned(rest(rest'high downto rest'high - 3))) + 1);
            rest := rest(rest'high - 4 downto 0) & "0000";
          end loop;
          return text;
        end function hex;

        -- The number that bits count, "x" if one is unknown.
        function number(bits : std_logic_vector) return string is
        begin
          if is_x(bits) then
            return "x";
          end if;
          return integer'image(to_integer(unsigned(bits)));
        end function number;

        procedure say(text : in string) is
          variable row : line;
        begin
          write(row, text);
          writeline(output, row);
        end procedure say;

        signal dut_@CODE_NAME@ : std_logic_vector(CODE_BITS - 1 downto 0);
      @MODE_SIGNALS@  signal dut_@LENGTH_NAME@ : @LENGTH_TYPE@;

      begin

        dut : entity work.@NAME@
          port map (
            @CODE_NAME@ => dut_code,
      @MODE_PORTS@      @LENGTH_NAME@ => dut_length
          );

        check : process
          type counts is array (0 to @KINDS@) of natural;
          file     vectors    : text;
          variable opened     : file_open_status;
          variable row        : line;
          variable word       : std_logic_vector(WORD_BITS - 1 downto 0);
          variable kind       : natural;
          variable expected   : std_logic_vector(7 downto 0);
          variable found      : std_logic_vector(7 downto 0);
          variable modes      : std_logic_vector(7 downto 0);
          variable ran        : counts := (others => 0);
          variable mismatches : natural := 0;
        begin
          file_open(opened, vectors, vectors_file, read_mode);
          for index in 0 to COUNT - 1 loop
            -- word: kind, length, modes, code; see the vector file
            word := (others => 'X');
            if opened = open_ok then
              if not endfile(vectors) then
                readline(vectors, row);
                if row'length = WORD_BITS / 4 then
                  word := bits_of(row.all);
                end if;
              end if;
            end if;
            if is_x(word) then
              say("FAIL @NAME@: no vector " & integer'image(index) & " in " & vectors_file);
              report "vectors cannot be read" severity failure;
            end if;
            kind := to_integer(unsigned(word(CODE_BITS + 23 downto CODE_BITS + 16)));
            expected := word(CODE_BITS + 15 downto CODE_BITS + 8);
            modes := word(CODE_BITS + 7 downto CODE_BITS);
            dut_code <= word(CODE_BITS - 1 downto 0);
      @ASSIGN_MODES@      wait for 1 ns;
            ran(kind) := ran(kind) + 1;
            found := (7 downto LENGTH_BITS => '0') & dut_length;
            if found /= expected then
              mismatches := mismatches + 1;
              if mismatches <= SHOWN then
                say("mismatch at vector " & integer'image(index) & ": code " & hex(dut_code)
      @MODE_TEXT@              & " expected " & number(expected) & " found " & number(found));
              end if;
            end if;
          end loop;
          say("vectors: " & integer'image(COUNT));
      @COVERAGE@    say("mismatches: " & integer'image(mismatches));
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

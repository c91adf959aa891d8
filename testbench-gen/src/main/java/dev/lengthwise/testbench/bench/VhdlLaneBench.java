package dev.lengthwise.testbench.bench;

import dev.lengthwise.realize.Design;
import dev.lengthwise.testbench.vector.LaneVectors;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * Prints the self-checking VHDL bench of a lane. It keeps to what the editions of 1993 and 2008
 * share, so that it can be simulated together with RTL of either edition. Signals at the lane's
 * ports start with {@code dut_}.
 */
public final class VhdlLaneBench extends LaneBench {

  private final int longest;

  private VhdlLaneBench(Design design, LaneVectors vectors) {
    super(design, vectors, TEMPLATE);
    this.longest = Math.max(6, modes.stream().mapToInt(String::length).max().orElse(0));
  }

  public static String text(Design design, LaneVectors vectors) {
    return new VhdlLaneBench(design, vectors).text();
  }

  @Override
  String declaration(String signal) {
    return "  signal " + padded(signal, longest + 4) + " : std_logic;\n";
  }

  @Override
  String connection(String mode, String signal) {
    return "      " + padded(mode, longest) + " => " + signal + ",\n";
  }

  @Override
  String assignment(String signal, int bit) {
    return "      " + signal + " <= modes(" + bit + ");\n";
  }

  @Override
  String coverage(String label, int kind, int of) {
    return String.format(
        Locale.ROOT,
        "    say(\"  %s: \" & integer'image(ran(%d)) & \" of %d\");\n",
        label,
        kind,
        of);
  }

  private static String padded(String name, int longest) {
    return name + " ".repeat(Math.max(0, longest - name.length()));
  }

  @Override
  Map<String, String> own() {
    return Map.of(
        "@WORD@", Integer.toString(wordBits()),
        "@CODE@", Integer.toString(codeBits()),
        "@LENGTH@", Integer.toString(lengthBits()),
        "@LENGTH_TYPE@", VhdlPieces.type(lengthBits()),
        "@CODE_NAME@", padded("code", longest),
        "@LENGTH_NAME@", padded("length", longest),
        "@MODE_TEXT@", modes.stream().map(this::shown).collect(Collectors.joining()));
  }

  private String shown(String mode) {
    return "              & \" " + mode + " \" & hex(\"000\" & " + signal(mode) + ")\n";
  }

  private static final String TEMPLATE =
      """
      -- Self-checking bench of @NAME@.
      -- Reads golden vectors, applies each, and compares the length. Prints the number of vectors,
      -- what they cover and the first mismatches; ends with a failure if there is one.
      -- The vectors are read from the file that the generic vectors_file names.
      """
          + VhdlPieces.OPENING
          + """
            constant COUNT       : natural := @COUNT@;
            constant SHOWN       : natural := 10;
            constant WORD_BITS   : natural := @WORD@;
            constant CODE_BITS   : natural := @CODE@;
            constant LENGTH_BITS : natural := @LENGTH@;

          """
          + VhdlPieces.BITS_OF
          + """
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

          """
          + VhdlPieces.SAY
          + """
            signal dut_@CODE_NAME@ : std_logic_vector(CODE_BITS - 1 downto 0);
          @DECLARATIONS@  signal dut_@LENGTH_NAME@ : @LENGTH_TYPE@;

          begin

            dut : entity work.@NAME@
              port map (
                @CODE_NAME@ => dut_code,
          @PORTS@      @LENGTH_NAME@ => dut_length
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
          @ASSIGNMENTS@      wait for 1 ns;
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
          """
          + VhdlPieces.CLOSING;
}

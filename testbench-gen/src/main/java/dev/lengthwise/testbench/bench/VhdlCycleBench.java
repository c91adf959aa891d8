package dev.lengthwise.testbench.bench;

import dev.lengthwise.testbench.cycle.CycleFields;
import java.util.List;
import java.util.Locale;
import java.util.Map;

/**
 * Prints the self-checking VHDL bench of a clocked design, within what the editions of 1993 and
 * 2008 share. Signals at the design's ports start with {@code dut_}.
 */
public final class VhdlCycleBench extends CycleBench {

  private VhdlCycleBench(String design, CycleFields fields) {
    super(design, fields, TEMPLATE, "dut_");
  }

  public static String text(String name, CycleFields fields) {
    return new VhdlCycleBench(name, fields).text();
  }

  @Override
  String drivenSignal(String signal, int width) {
    return readSignal(signal, width);
  }

  @Override
  String readSignal(String signal, int width) {
    return "  signal " + signal + " : " + VhdlPieces.type(width) + ";\n";
  }

  @Override
  String connection(String port, String signal) {
    return ",\n      " + port + " => " + signal;
  }

  @Override
  String assignment(String signal, String value) {
    return "        " + signal + " <= " + value + ";\n";
  }

  @Override
  String comparison(CycleFields.Output output, String signal) {
    String and = output.onlyWith().isEmpty() ? "" : " and " + is(field(output.onlyWith(), 1), true);
    String vector = output.width() == 1 ? "'0' & " : "";
    return String.format(
        Locale.ROOT,
        "        if %s%s then\n          compare(\"%s\", %s, %s);\n        end if;\n",
        isChecked(output.check()),
        and,
        output.port(),
        vector + field(output.port(), output.width()),
        vector + signal);
  }

  @Override
  String counter(int number) {
    return "    variable counted_" + number + "  : natural := 0;\n";
  }

  @Override
  String count(int number, List<String> terms) {
    return String.format(
        Locale.ROOT,
        """
                if index >= 0 and %2$s then
                  counted_%1$d := counted_%1$d + 1;
                end if;
        """,
        number,
        String.join(" and ", terms));
  }

  @Override
  String report(int number, String label) {
    return String.format(
        Locale.ROOT, "    say(\"  %s: \" & integer'image(counted_%d));\n", label, number);
  }

  @Override
  String isChecked(int bit) {
    return is("checks(" + bit + ")", true);
  }

  @Override
  String is(String signal, boolean one) {
    return signal + (one ? " = '1'" : " = '0'");
  }

  @Override
  String bits(int from, int width) {
    return width == 1
        ? "word(" + from + ")"
        : "word(" + (from + width - 1) + " downto " + from + ")";
  }

  @Override
  Map<String, String> own() {
    return Map.of(
        "@WORD@", Integer.toString(fields.wordBits()),
        "@CHECKS@", Integer.toString(checksFrom()));
  }

  private static final String TEMPLATE =
      """
      -- Self-checking bench of @NAME@.
      -- Reads golden vectors, one cycle a line, applies the inputs of each and compares the outputs
      -- that are fixed in it. Prints the number of cycles, what they cover and the first mismatches;
      -- ends with a failure if there is one.
      -- The vectors are read from the file that the generic vectors_file names; its first line
      -- counts them.
      """
          + VhdlPieces.OPENING
          + """
            constant SHOWN     : natural := 10;
            constant WORD_BITS : natural := @WORD@;

          """
          + VhdlPieces.BITS_OF
          + """
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

          """
          + VhdlPieces.SAY
          + """
            signal dut_clock : std_logic := '0';
            signal dut_reset : std_logic := '1';
          @DECLARATIONS@
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
          """
          + VhdlPieces.CLOSING;
}

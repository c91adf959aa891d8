package dev.lengthwise.testbench.bench;

/** What the VHDL benches share, within what the editions of 1993 and 2008 have both. */
final class VhdlPieces {

  /** From the last line of the head on: libraries, the entity, the start of its architecture. */
  static final String OPENING =
      """
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

      """;

  /** Reads hexadecimal digits. */
  static final String BITS_OF =
      """
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

      """;

  /** Prints a line. */
  static final String SAY =
      """
        procedure say(text : in string) is
          variable row : line;
        begin
          write(row, text);
          writeline(output, row);
        end procedure say;

      """;

  /** The verdict and all that follows. */
  static final String CLOSING =
      """
          if mismatches /= 0 then
            say("FAIL @NAME@");
            report "the circuit differs from the golden vectors" severity failure;
          end if;
          say("PASS @NAME@");
          wait;
        end process check;

      end architecture bench;
      """;

  private VhdlPieces() {}

  static String type(int width) {
    return width == 1 ? "std_logic" : "std_logic_vector(" + (width - 1) + " downto 0)";
  }
}

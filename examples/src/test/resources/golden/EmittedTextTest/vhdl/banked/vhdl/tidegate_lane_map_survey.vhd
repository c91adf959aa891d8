------------------------------------------------------------------------------------------------
-- Block tidegate_lane_map_survey
--
-- Opcode map survey: what each opcode says.
--
-- Ports, with their widths in bits:
--   input   key           8  the code that is looked up
--   input   wide          1  mode wide
--   output  bytes         4  bytes without operand; 0: not handled
--   output  specifier     2  which operand specifier adds bytes; 0: none
--
-- Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
------------------------------------------------------------------------------------------------

library ieee;
use ieee.std_logic_1164.all;
use ieee.numeric_std.all;

entity tidegate_lane_map_survey is
  port (
    key       : in  std_logic_vector(7 downto 0);
    wide      : in  std_logic;
    bytes     : out std_logic_vector(3 downto 0);
    specifier : out std_logic_vector(1 downto 0)
  );
end entity tidegate_lane_map_survey;

architecture rtl of tidegate_lane_map_survey is

  -- One LUT: bit i of the truth table is the output while the inputs count i. The 0 in front
  -- is for synthesizers that take a constant whose only ones are in its first 32 bits for
  -- zero.
  function lut_of(table_bits, inputs : std_logic_vector) return std_logic is
    constant numbered : std_logic_vector(table_bits'length downto 0) := '0' & table_bits;
  begin
    if is_x(inputs) then
      return 'X';
    end if;
    return numbered(to_integer(unsigned(inputs)));
  end function lut_of;

  signal bank         : std_logic_vector(3 downto 0);
  signal row_0_group1 : std_logic;
  signal row_0_group2 : std_logic;
  signal row_0        : std_logic;
  signal row_1_group1 : std_logic;
  signal row_1_group2 : std_logic;
  signal row_1        : std_logic;
  signal row_2_group1 : std_logic;
  signal row_2_group2 : std_logic;
  signal row_2        : std_logic;
  signal row_5_group1 : std_logic;
  signal row          : std_logic_vector(5 downto 0);

begin

  ------------------------------------------------------------------------------
  -- Banks, selected by key 4, key 5, key 6, key 7

  bank <= key(7 downto 4);
  row_0_group1 <= lut_of(x"0c0cfdff0d0dfcff", wide & key(6) & key(3 downto 0));
  row_0_group2 <= lut_of(x"0001", key(3 downto 0));

  with bank select
    row_0 <=
      '0'          when "0000" | "0011" | "1000" | "1010" | "1011" | "1100" | "1101" | "1110" |
          "1111",
      '1'          when "0001",
      row_0_group1 when "0010" | "0100" | "0101" | "0110" | "0111",
      row_0_group2 when "1001",
      'X'          when others;

  row_1_group1 <= lut_of(x"0e0efcff0f0ffcff", wide & key(6) & key(3 downto 0));
  row_1_group2 <= lut_of(x"0001ffff00010000", wide & key(4 downto 0));

  with bank select
    row_1 <=
      '1'          when "0000" | "0001",
      row_1_group1 when "0010" | "0100" | "0101" | "0110" | "0111",
      '0'          when "0011" | "1010" | "1011" | "1100" | "1101" | "1110" | "1111",
      row_1_group2 when "1000" | "1001",
      'X'          when others;

  row_2_group1 <= lut_of(x"0101030000000300", wide & key(6) & key(3 downto 0));
  row_2_group2 <= lut_of(x"0001", key(3 downto 0));

  with bank select
    row_2 <=
      '0'          when "0000" | "0001" | "0011" | "1010" | "1011" | "1100" | "1101" | "1110" |
          "1111",
      row_2_group1 when "0010" | "0100" | "0101" | "0110" | "0111",
      '1'          when "1000",
      row_2_group2 when "1001",
      'X'          when others;

  row_5_group1 <= lut_of(x"00000000aaaa0cf0", key(7 downto 3) & key(1));
  row <= row_5_group1 & "00" & row_2 & row_1 & row_0;

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);

end architecture rtl;

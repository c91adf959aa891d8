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

  constant row_0_group1_table : std_logic_vector(0 to 63) :=
    "1111111100111111101100001011000011111111101111110011000000110000"; -- 0x00

  constant row_0_group2_table : std_logic_vector(0 to 15) :=
    "1000000000000000"; -- 0x0

  constant row_1_group1_table : std_logic_vector(0 to 63) :=
    "1111111100111111111100001111000011111111001111110111000001110000"; -- 0x00

  constant row_1_group2_table : std_logic_vector(0 to 63) :=
    "0000000000000000100000000000000011111111111111111000000000000000"; -- 0x00

  constant row_2_group1_table : std_logic_vector(0 to 63) :=
    "0000000011000000000000000000000000000000110000001000000010000000"; -- 0x00

  constant row_5_group1_table : std_logic_vector(63 downto 0) :=
    "0000000000000000000000000000000010101010101010100000110011110000"; -- down to 0x00

  signal bank                : std_logic_vector(3 downto 0);
  signal key_bits_and_wide   : std_logic_vector(5 downto 0);
  signal row_0_group1        : std_logic;
  signal row_0_group2        : std_logic;
  signal row_0               : std_logic;
  signal row_1_group1        : std_logic;
  signal key_bits_and_wide_2 : std_logic_vector(5 downto 0);
  signal row_1_group2        : std_logic;
  signal row_1               : std_logic;
  signal row_2_group1        : std_logic;
  signal row_2_group2        : std_logic;
  signal row_2               : std_logic;
  signal key_bits            : std_logic_vector(5 downto 0);
  signal row_5_group1        : std_logic;
  signal row                 : std_logic_vector(5 downto 0);

begin

  ------------------------------------------------------------------------------
  -- Banks, selected by key 4, key 5, key 6, key 7

  bank <= key(7 downto 4);
  key_bits_and_wide <= wide & key(6) & key(3 downto 0);
  row_0_group1 <= 'X' when is_x(key_bits_and_wide) else
      row_0_group1_table(to_integer(unsigned(key_bits_and_wide)));
  row_0_group2 <= 'X' when is_x(key(3 downto 0)) else
      row_0_group2_table(to_integer(unsigned(key(3 downto 0))));

  with bank select
    row_0 <=
      '0'          when "0000" | "0011" | "1000" | "1010" | "1011" | "1100" | "1101" | "1110" |
          "1111",
      '1'          when "0001",
      row_0_group1 when "0010" | "0100" | "0101" | "0110" | "0111",
      row_0_group2 when "1001",
      'X'          when others;

  row_1_group1 <= 'X' when is_x(key_bits_and_wide) else
      row_1_group1_table(to_integer(unsigned(key_bits_and_wide)));
  key_bits_and_wide_2 <= wide & key(4 downto 0);
  row_1_group2 <= 'X' when is_x(key_bits_and_wide_2) else
      row_1_group2_table(to_integer(unsigned(key_bits_and_wide_2)));

  with bank select
    row_1 <=
      '1'          when "0000" | "0001",
      row_1_group1 when "0010" | "0100" | "0101" | "0110" | "0111",
      '0'          when "0011" | "1010" | "1011" | "1100" | "1101" | "1110" | "1111",
      row_1_group2 when "1000" | "1001",
      'X'          when others;

  row_2_group1 <= 'X' when is_x(key_bits_and_wide) else
      row_2_group1_table(to_integer(unsigned(key_bits_and_wide)));
  row_2_group2 <= 'X' when is_x(key(3 downto 0)) else
      row_0_group2_table(to_integer(unsigned(key(3 downto 0))));

  with bank select
    row_2 <=
      '0'          when "0000" | "0001" | "0011" | "1010" | "1011" | "1100" | "1101" | "1110" |
          "1111",
      row_2_group1 when "0010" | "0100" | "0101" | "0110" | "0111",
      '1'          when "1000",
      row_2_group2 when "1001",
      'X'          when others;

  key_bits <= key(7 downto 3) & key(1);
  row_5_group1 <= 'X' when is_x(key_bits) else row_5_group1_table(to_integer(unsigned(key_bits)));
  row <= row_5_group1 & "00" & row_2 & row_1 & row_0;

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);

end architecture rtl;

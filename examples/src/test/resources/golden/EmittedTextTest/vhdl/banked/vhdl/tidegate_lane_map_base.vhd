------------------------------------------------------------------------------------------------
-- Block tidegate_lane_map_base
--
-- Opcode map base: what each opcode says.
--
-- Ports, with their widths in bits:
--   input   key           8  the code that is looked up
--   input   wide          1  mode wide
--   output  bytes         4  bytes without operand; 0: not handled
--   output  specifier     2  which operand specifier adds bytes; 0: none
--   output  next_map      1  which further map decides; 0: none
--   output  split         1  which table of the byte after the opcode decides; 0: none
--
-- Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
------------------------------------------------------------------------------------------------

library ieee;
use ieee.std_logic_1164.all;
use ieee.numeric_std.all;

entity tidegate_lane_map_base is
  port (
    key       : in  std_logic_vector(7 downto 0);
    wide      : in  std_logic;
    bytes     : out std_logic_vector(3 downto 0);
    specifier : out std_logic_vector(1 downto 0);
    next_map  : out std_logic;
    split     : out std_logic
  );
end entity tidegate_lane_map_base;

architecture rtl of tidegate_lane_map_base is

  constant row_0_group1_table : std_logic_vector(0 to 255) :=
    "1110111111110000000000000000000000011111000111110001111100011111" & -- 0x00
    "0000000000000000111111111111111110001111000000000000000011110111" & -- 0x40
    "1110111111110000000000000000000000111111001111110010111100111111" & -- 0x80
    "0000000000000000111111111111111110001111000000000000000011110111"; -- 0xc0

  constant row_0_group2_table : std_logic_vector(0 to 255) :=
    "1110000011110100000000000000000000000000000001101111111111111111" & -- 0x00
    "1010001100000000000000001111111100000000000000001100000000000000" & -- 0x40
    "1000000011110110000000000000111100000000111101101111111111111111" & -- 0x80
    "1010001100000000000000001111111100000000000000001100000000000000"; -- 0xc0

  constant row_1_group1_table : std_logic_vector(0 to 255) :=
    "0001000000001111111111111111111111110000111100001111000011100000" & -- 0x00
    "1111111111111111111111111111111110100000000000001111111111111000" & -- 0x40
    "0001000000001111111111111111111111110000111100001110000011100000" & -- 0x80
    "1111111111111111000000000000000011100000000000001111111111111000"; -- 0xc0

  constant row_1_group2_table : std_logic_vector(0 to 255) :=
    "1111111100000110111111111111111111111111111101100000000000000000" & -- 0x00
    "1101111111111111111111111111111100000000000000000000000000000000" & -- 0x40
    "1001111100000110111111111111111111111111111101100000000000000000" & -- 0x80
    "0101111111111111111111110000000000000000000000000000000000000000"; -- 0xc0

  constant row_2_group1_table : std_logic_vector(0 to 255) :=
    "0000000000000000000000000000000000000000000000000000000000000000" & -- 0x00
    "0000000000000000000000000000000001010000000000000000000000000100" & -- 0x40
    "0000000000000000000000000000000000000000000000000001000000000000" & -- 0x80
    "0000000000000000111111111111111101010000000000000000000000000100"; -- 0xc0

  constant row_2_group2_table : std_logic_vector(0 to 255) :=
    "0000000000001000000000000000000000000000000000000000000000000000" & -- 0x00
    "0000000000000000000000000000000000000000000000000000000000000000" & -- 0x40
    "0110000000001000000000000000000000000000000000000000000000000000" & -- 0x80
    "1000000000000000000000001111111100000000000000000000000000000000"; -- 0xc0

  constant row_4_group1_table : std_logic_vector(0 to 127) :=
    "0000000000000000111111111111111111010000110100001101000011000000" & -- 0x00
    "0000000000000000000000000000000011000000000000000000000000001000"; -- 0x40

  constant row_4_group2_table : std_logic_vector(0 to 63) :=
    "1100000011111100111100000000000000100000000000000000000000000000"; -- 0x00

  constant row_6_group1_table : std_logic_vector(0 to 127) :=
    "0000000000000000000000000000000000000000000000000000000000000000" & -- 0x00
    "0000000000000000000000000000000000000000000000000000000000000010"; -- 0x40

  constant row_7_group1_table : std_logic_vector(0 to 127) :=
    "0000000000000000000000000000000000000000000010000000000000000000" & -- 0x00
    "0000000000000000000000000000000000000000000000000000000000000000"; -- 0x40

  signal bank              : std_logic;
  signal key_bits_and_wide : std_logic_vector(7 downto 0);
  signal row_0_group1      : std_logic;
  signal row_0_group2      : std_logic;
  signal row_0             : std_logic;
  signal row_1_group1      : std_logic;
  signal row_1_group2      : std_logic;
  signal row_1             : std_logic;
  signal row_2_group1      : std_logic;
  signal row_2_group2      : std_logic;
  signal row_2             : std_logic;
  signal key_bits          : std_logic_vector(6 downto 0);
  signal row_4_group1      : std_logic;
  signal key_bits_2        : std_logic_vector(5 downto 0);
  signal row_4_group2      : std_logic;
  signal row_4             : std_logic;
  signal row_6_group1      : std_logic;
  signal row_6             : std_logic;
  signal row_7_group1      : std_logic;
  signal row_7             : std_logic;
  signal row               : std_logic_vector(7 downto 0);

begin

  bank <= key(5);

  ------------------------------------------------------------------------------
  -- Banks, selected by key 5

  key_bits_and_wide <= wide & key(7 downto 6) & key(4 downto 0);
  row_0_group1 <= 'X' when is_x(key_bits_and_wide) else
      row_0_group1_table(to_integer(unsigned(key_bits_and_wide)));
  row_0_group2 <= 'X' when is_x(key_bits_and_wide) else
      row_0_group2_table(to_integer(unsigned(key_bits_and_wide)));

  with bank select
    row_0 <=
      row_0_group1 when '0',
      row_0_group2 when '1',
      'X'          when others;

  row_1_group1 <= 'X' when is_x(key_bits_and_wide) else
      row_1_group1_table(to_integer(unsigned(key_bits_and_wide)));
  row_1_group2 <= 'X' when is_x(key_bits_and_wide) else
      row_1_group2_table(to_integer(unsigned(key_bits_and_wide)));

  with bank select
    row_1 <=
      row_1_group1 when '0',
      row_1_group2 when '1',
      'X'          when others;

  row_2_group1 <= 'X' when is_x(key_bits_and_wide) else
      row_2_group1_table(to_integer(unsigned(key_bits_and_wide)));
  row_2_group2 <= 'X' when is_x(key_bits_and_wide) else
      row_2_group2_table(to_integer(unsigned(key_bits_and_wide)));

  with bank select
    row_2 <=
      row_2_group1 when '0',
      row_2_group2 when '1',
      'X'          when others;

  key_bits <= key(7 downto 6) & key(4 downto 0);
  row_4_group1 <= 'X' when is_x(key_bits) else row_4_group1_table(to_integer(unsigned(key_bits)));
  key_bits_2 <= key(7 downto 6) & key(4 downto 1);
  row_4_group2 <= 'X' when is_x(key_bits_2) else row_4_group2_table(to_integer(unsigned(key_bits_2)));

  with bank select
    row_4 <=
      row_4_group1 when '0',
      row_4_group2 when '1',
      'X'          when others;

  row_6_group1 <= 'X' when is_x(key_bits) else row_6_group1_table(to_integer(unsigned(key_bits)));
  row_6 <= bank and row_6_group1;
  row_7_group1 <= 'X' when is_x(key_bits) else row_7_group1_table(to_integer(unsigned(key_bits)));
  row_7 <= bank and row_7_group1;
  row <= row_7 & row_6 & '0' & row_4 & '0' & row_2 & row_1 & row_0;

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);
  next_map <= row(6);
  split <= row(7);

end architecture rtl;

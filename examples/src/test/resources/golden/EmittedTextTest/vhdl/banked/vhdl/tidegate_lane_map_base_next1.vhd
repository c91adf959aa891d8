------------------------------------------------------------------------------------------------
-- Block tidegate_lane_map_base_next1
--
-- Opcode map base: what the byte after some opcodes says.
--
-- Ports, with their widths in bits:
--   input   key           8  the code that is looked up
--   output  bytes         4  bytes without operand; 0: not handled
--   output  specifier     2  which operand specifier adds bytes; 0: none
--   output  next_map      1  which further map decides; 0: none
--
-- Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
------------------------------------------------------------------------------------------------

library ieee;
use ieee.std_logic_1164.all;
use ieee.numeric_std.all;

entity tidegate_lane_map_base_next1 is
  port (
    key       : in  std_logic_vector(7 downto 0);
    bytes     : out std_logic_vector(3 downto 0);
    specifier : out std_logic_vector(1 downto 0);
    next_map  : out std_logic
  );
end entity tidegate_lane_map_base_next1;

architecture rtl of tidegate_lane_map_base_next1 is

  constant row_0_group1_table : std_logic_vector(0 to 7) :=
    "10000000"; -- 0x0

  constant row_1_group1_table : std_logic_vector(0 to 3) :=
    "1000"; -- 0x0

  constant row_2_group1_table : std_logic_vector(0 to 3) :=
    "0100"; -- 0x0

  signal row_0_group1 : std_logic;
  signal row_1_group1 : std_logic;
  signal row_2_group1 : std_logic;
  signal row          : std_logic_vector(6 downto 0);

begin

  ------------------------------------------------------------------------------
  -- Banks, selected by key 0

  row_0_group1 <= 'X' when is_x(key(7 downto 5)) else
      row_0_group1_table(to_integer(unsigned(key(7 downto 5))));
  row_1_group1 <= 'X' when is_x(key(7 downto 6)) else
      row_1_group1_table(to_integer(unsigned(key(7 downto 6))));
  row_2_group1 <= 'X' when is_x(key(7 downto 6)) else
      row_2_group1_table(to_integer(unsigned(key(7 downto 6))));
  row <= x"0" & row_2_group1 & row_1_group1 & row_0_group1;

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);
  next_map <= row(6);

end architecture rtl;

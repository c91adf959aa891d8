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

  type row_table_type is array (0 to 255) of std_logic_vector(6 downto 0);
  constant row_table : row_table_type := (
    16#00# to 16#1f# => "0000011",
    16#20# to 16#3f# => "0000010",
    16#40# to 16#7f# => "0000100",
    16#80# to 16#ff# => "0000000"
  );

  signal row : std_logic_vector(6 downto 0);

begin

  row <= (others => 'X') when is_x(key) else row_table(to_integer(unsigned(key)));

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);
  next_map <= row(6);

end architecture rtl;

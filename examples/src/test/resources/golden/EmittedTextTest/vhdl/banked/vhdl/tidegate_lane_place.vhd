------------------------------------------------------------------------------------------------
-- Block tidegate_lane_place
--
-- Bytes that operand specifier place adds after its own byte.
--
-- Ports, with their widths in bits:
--   input   specifier_byte     8  the operand specifier
--   input   index_byte         8  the byte after it
--   input   wide               1  mode wide
--   output  added              3  bytes added
--
-- Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
------------------------------------------------------------------------------------------------

library ieee;
use ieee.std_logic_1164.all;
use ieee.numeric_std.all;

entity tidegate_lane_place is
  port (
    specifier_byte : in  std_logic_vector(7 downto 0);
    index_byte     : in  std_logic_vector(7 downto 0);
    wide           : in  std_logic;
    added          : out std_logic_vector(2 downto 0)
  );
end entity tidegate_lane_place;

architecture rtl of tidegate_lane_place is

  -- '1' if the vectors are equal; unknown while one of their bits is.
  function is_equal(left, right : std_logic_vector) return std_logic is
  begin
    if is_x(left xor right) then
      return 'X';
    elsif left = right then
      return '1';
    end if;
    return '0';
  end function is_equal;

  signal adds_3      : std_logic;
  signal adds_5      : std_logic;
  signal added_bit_0 : std_logic;
  signal added_bit_1 : std_logic;

begin

  adds_3 <= is_equal(specifier_byte(2 downto 0), "111") and is_equal(specifier_byte(7 downto 6), "00")
      and not index_byte(0) and wide;
  adds_5 <= is_equal(specifier_byte(2 downto 0), "111") and is_equal(specifier_byte(7 downto 6), "00")
      and index_byte(0) and wide;
  added_bit_0 <= (is_equal(specifier_byte(2 downto 0), "110") and
      is_equal(specifier_byte(7 downto 6), "00")) or is_equal(specifier_byte(7 downto 6), "01") or
      adds_3 or adds_5;
  added_bit_1 <= (is_equal(specifier_byte(2 downto 0), "111") and
      is_equal(specifier_byte(7 downto 6), "00") and not wide) or
      is_equal(specifier_byte(7 downto 6), "10") or adds_3;
  added <= adds_5 & added_bit_1 & added_bit_0;

end architecture rtl;

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

  type row_table_type is array (0 to 511) of std_logic_vector(5 downto 0);
  constant row_table : row_table_type := (
    16#000# to 16#00f# => "000010",
    16#010# to 16#01f# => "100011",
    16#020# to 16#027# => "000011",
    16#028# to 16#029# => "100100",
    16#02a# to 16#02f# => "100011",
    16#030# to 16#03f# => "000000",
    16#040# => "000011",
    16#041# => "000010",
    16#042# to 16#043# => "100011",
    16#044# to 16#047# => "000000",
    16#048# => "000011",
    16#049# => "000010",
    16#04a# to 16#04b# => "100011",
    16#04c# to 16#04f# => "000000",
    16#050# => "000011",
    16#051# => "000010",
    16#052# to 16#053# => "100011",
    16#054# to 16#057# => "000000",
    16#058# => "000011",
    16#059# => "000010",
    16#05a# to 16#05b# => "100011",
    16#05c# to 16#05f# => "000000",
    16#060# => "000011",
    16#061# => "000010",
    16#062# to 16#063# => "100011",
    16#064# to 16#067# => "000000",
    16#068# => "000011",
    16#069# => "000010",
    16#06a# to 16#06b# => "100011",
    16#06c# to 16#06f# => "000000",
    16#070# => "000011",
    16#071# => "000010",
    16#072# to 16#073# => "100011",
    16#074# to 16#077# => "000000",
    16#078# => "000011",
    16#079# => "000010",
    16#07a# to 16#07b# => "100011",
    16#07c# to 16#07f# => "000000",
    16#080# to 16#08f# => "000100",
    16#090# => "000111",
    16#091# to 16#0ff# => "000000",
    16#100# to 16#10f# => "000010",
    16#110# to 16#11f# => "100011",
    16#120# to 16#127# => "000011",
    16#128# => "100101",
    16#129# => "100100",
    16#12a# to 16#12f# => "100011",
    16#130# to 16#13f# => "000000",
    16#140# => "000100",
    16#141# => "000010",
    16#142# to 16#143# => "100011",
    16#144# to 16#147# => "000000",
    16#148# => "000100",
    16#149# => "000010",
    16#14a# to 16#14b# => "100011",
    16#14c# to 16#14f# => "000000",
    16#150# => "000100",
    16#151# => "000010",
    16#152# to 16#153# => "100011",
    16#154# to 16#157# => "000000",
    16#158# => "000100",
    16#159# => "000010",
    16#15a# to 16#15b# => "100011",
    16#15c# to 16#15f# => "000000",
    16#160# => "000100",
    16#161# => "000010",
    16#162# to 16#163# => "100011",
    16#164# to 16#167# => "000000",
    16#168# => "000100",
    16#169# => "000010",
    16#16a# to 16#16b# => "100011",
    16#16c# to 16#16f# => "000000",
    16#170# => "000100",
    16#171# => "000010",
    16#172# to 16#173# => "100011",
    16#174# to 16#177# => "000000",
    16#178# => "000100",
    16#179# => "000010",
    16#17a# to 16#17b# => "100011",
    16#17c# to 16#17f# => "000000",
    16#180# to 16#18f# => "000110",
    16#190# => "000111",
    16#191# to 16#1ff# => "000000"
  );

  signal key_and_wide : std_logic_vector(8 downto 0);
  signal row          : std_logic_vector(5 downto 0);

begin

  key_and_wide <= wide & key;
  row <= (others => 'X') when is_x(key_and_wide) else row_table(to_integer(unsigned(key_and_wide)));

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);

end architecture rtl;

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

  type row_table_type is array (0 to 511) of std_logic_vector(7 downto 0);
  constant row_table : row_table_type := (
    16#000# to 16#002# => x"01",
    16#003# => x"02",
    16#004# to 16#00b# => x"01",
    16#00c# to 16#00f# => x"02",
    16#010# to 16#01f# => x"12",
    16#020# to 16#022# => x"13",
    16#023# => x"12",
    16#024# to 16#027# => x"02",
    16#028# to 16#02b# => x"01",
    16#02c# => x"04",
    16#02d# => x"03",
    16#02e# => x"02",
    16#02f# => x"00",
    16#030# to 16#03b# => x"12",
    16#03c# to 16#03f# => x"02",
    16#040# to 16#041# => x"12",
    16#042# => x"02",
    16#043# => x"13",
    16#044# to 16#047# => x"01",
    16#048# to 16#049# => x"12",
    16#04a# => x"02",
    16#04b# => x"13",
    16#04c# to 16#04f# => x"01",
    16#050# to 16#051# => x"12",
    16#052# => x"02",
    16#053# => x"13",
    16#054# to 16#057# => x"01",
    16#058# to 16#059# => x"12",
    16#05a# => x"02",
    16#05b# to 16#05f# => x"01",
    16#060# to 16#067# => x"12",
    16#068# to 16#06b# => x"02",
    16#06c# => x"80",
    16#06d# to 16#06e# => x"03",
    16#06f# => x"00",
    16#070# to 16#07f# => x"01",
    16#080# to 16#08f# => x"02",
    16#090# to 16#0a0# => x"03",
    16#0a1# => x"02",
    16#0a2# => x"01",
    16#0a3# => x"02",
    16#0a4# to 16#0a5# => x"12",
    16#0a6# to 16#0a7# => x"03",
    16#0a8# to 16#0b7# => x"02",
    16#0b8# to 16#0bf# => x"03",
    16#0c0# => x"13",
    16#0c1# => x"14",
    16#0c2# => x"02",
    16#0c3# => x"04",
    16#0c4# to 16#0c7# => x"01",
    16#0c8# to 16#0cf# => x"00",
    16#0d0# to 16#0d7# => x"02",
    16#0d8# to 16#0db# => x"03",
    16#0dc# => x"12",
    16#0dd# => x"05",
    16#0de# to 16#0df# => x"01",
    16#0e0# to 16#0ef# => x"00",
    16#0f0# to 16#0f1# => x"01",
    16#0f2# to 16#0fd# => x"00",
    16#0fe# => x"40",
    16#0ff# => x"00",
    16#100# to 16#102# => x"01",
    16#103# => x"02",
    16#104# to 16#10b# => x"01",
    16#10c# to 16#10f# => x"02",
    16#110# to 16#11f# => x"12",
    16#120# => x"13",
    16#121# to 16#122# => x"14",
    16#123# => x"12",
    16#124# to 16#127# => x"02",
    16#128# to 16#12b# => x"01",
    16#12c# => x"04",
    16#12d# to 16#12e# => x"03",
    16#12f# => x"00",
    16#130# to 16#13b# => x"12",
    16#13c# to 16#13f# => x"03",
    16#140# to 16#141# => x"12",
    16#142# => x"03",
    16#143# => x"13",
    16#144# to 16#147# => x"01",
    16#148# to 16#149# => x"12",
    16#14a# => x"03",
    16#14b# => x"13",
    16#14c# to 16#14f# => x"01",
    16#150# to 16#151# => x"12",
    16#152# => x"03",
    16#153# => x"14",
    16#154# to 16#157# => x"01",
    16#158# to 16#159# => x"12",
    16#15a# => x"03",
    16#15b# to 16#15f# => x"01",
    16#160# to 16#167# => x"12",
    16#168# to 16#16b# => x"03",
    16#16c# => x"80",
    16#16d# to 16#16e# => x"03",
    16#16f# => x"00",
    16#170# to 16#17f# => x"01",
    16#180# to 16#18f# => x"02",
    16#190# to 16#1a0# => x"05",
    16#1a1# => x"02",
    16#1a2# => x"01",
    16#1a3# => x"02",
    16#1a4# to 16#1a5# => x"12",
    16#1a6# to 16#1a7# => x"03",
    16#1a8# to 16#1b7# => x"02",
    16#1b8# to 16#1bf# => x"05",
    16#1c0# => x"13",
    16#1c1# => x"16",
    16#1c2# => x"02",
    16#1c3# => x"04",
    16#1c4# to 16#1c7# => x"01",
    16#1c8# to 16#1cf# => x"00",
    16#1d0# to 16#1d7# => x"02",
    16#1d8# to 16#1db# => x"03",
    16#1dc# => x"12",
    16#1dd# => x"05",
    16#1de# to 16#1df# => x"01",
    16#1e0# to 16#1ef# => x"00",
    16#1f0# to 16#1f1# => x"01",
    16#1f2# to 16#1fd# => x"00",
    16#1fe# => x"40",
    16#1ff# => x"00"
  );

  signal key_and_wide : std_logic_vector(8 downto 0);
  signal row          : std_logic_vector(7 downto 0);

begin

  key_and_wide <= wide & key;
  row <= (others => 'X') when is_x(key_and_wide) else row_table(to_integer(unsigned(key_and_wide)));

  bytes <= row(3 downto 0);
  specifier <= row(5 downto 4);
  next_map <= row(6);
  split <= row(7);

end architecture rtl;

------------------------------------------------------------------------------------------------
-- Block tidegate_lane
--
-- Length of the instruction of tidegate that starts at byte 0; 0 where the lane does not
-- handle it.
--
-- Ports, with their widths in bits:
--   input   code      32  the bytes that the lane sees, its own in bits 7 to 0
--   input   wide       1  mode wide
--   output  length     4  bytes of the instruction; 0: not handled
--
-- Facts:
--   description: tidegate
--   style: rom
--   bytes seen: 4
--   longest length: 8
--   left out: survey 0x30-0x3f
--   latency: 0 cycles
--
-- Figures of area, levels and speed are estimates. Timing closure and functional safety are
-- for the device vendor's sign-off tools, local codes and licensed practice to establish.
------------------------------------------------------------------------------------------------

library ieee;
use ieee.std_logic_1164.all;
use ieee.numeric_std.all;

entity tidegate_lane is
  port (
    code   : in  std_logic_vector(31 downto 0);
    wide   : in  std_logic;
    length : out std_logic_vector(3 downto 0)
  );
end entity tidegate_lane;

architecture rtl of tidegate_lane is

  -- '1' if the left number is less than the right; unknown while one of their bits is.
  function is_below(left, right : std_logic_vector) return std_logic is
  begin
    if is_x(left xor right) then
      return 'X';
    elsif unsigned(left) < unsigned(right) then
      return '1';
    end if;
    return '0';
  end function is_below;

  -- '1' if a bit is.
  function or_all(vector : std_logic_vector) return std_logic is
    variable reduced : std_logic := '0';
  begin
    for i in vector'range loop
      reduced := reduced or vector(i);
    end loop;
    return reduced;
  end function or_all;

  signal map_base_bytes            : std_logic_vector(3 downto 0);
  signal map_base_specifier        : std_logic_vector(1 downto 0);
  signal map_base_next_map         : std_logic;
  signal map_base_split            : std_logic;
  signal map_base_next1_bytes      : std_logic_vector(3 downto 0);
  signal map_base_next1_specifier  : std_logic_vector(1 downto 0);
  signal map_base_next1_next_map   : std_logic;
  signal base_bytes                : std_logic_vector(3 downto 0);
  signal base_specifier            : std_logic_vector(1 downto 0);
  signal base_next_map             : std_logic;
  signal map_survey_bytes          : std_logic_vector(3 downto 0);
  signal map_survey_specifier      : std_logic_vector(1 downto 0);
  signal base_or_further_bytes     : std_logic_vector(3 downto 0);
  signal base_or_further_specifier : std_logic_vector(1 downto 0);
  signal place_at_1_added          : std_logic_vector(2 downto 0);
  signal place_at_2_added          : std_logic_vector(2 downto 0);
  signal added                     : std_logic_vector(2 downto 0);
  signal bytes_and_operand         : std_logic_vector(4 downto 0);
  signal is_short_enough           : std_logic;
  signal handled                   : std_logic;
  signal length_full               : std_logic_vector(4 downto 0);

begin

  ------------------------------------------------------------------------------
  -- Opcode maps

  map_base : entity work.tidegate_lane_map_base
    port map (
      key       => code(7 downto 0),
      wide      => wide,
      bytes     => map_base_bytes,
      specifier => map_base_specifier,
      next_map  => map_base_next_map,
      split     => map_base_split
    );

  map_base_next1 : entity work.tidegate_lane_map_base_next1
    port map (
      key       => code(15 downto 8),
      bytes     => map_base_next1_bytes,
      specifier => map_base_next1_specifier,
      next_map  => map_base_next1_next_map
    );

  with map_base_split select
    base_bytes <=
      map_base_bytes       when '0',
      map_base_next1_bytes when '1',
      (others => 'X')      when others;

  with map_base_split select
    base_specifier <=
      map_base_specifier       when '0',
      map_base_next1_specifier when '1',
      (others => 'X')          when others;

  with map_base_split select
    base_next_map <=
      map_base_next_map       when '0',
      map_base_next1_next_map when '1',
      'X'                     when others;

  map_survey : entity work.tidegate_lane_map_survey
    port map (
      key       => code(15 downto 8),
      wide      => wide,
      bytes     => map_survey_bytes,
      specifier => map_survey_specifier
    );

  with base_next_map select
    base_or_further_bytes <=
      base_bytes       when '0',
      map_survey_bytes when '1',
      (others => 'X')  when others;

  with base_next_map select
    base_or_further_specifier <=
      base_specifier       when '0',
      map_survey_specifier when '1',
      (others => 'X')      when others;

  ------------------------------------------------------------------------------
  -- Operand specifiers

  place_at_1 : entity work.tidegate_lane_place
    port map (
      specifier_byte => code(15 downto 8),
      index_byte     => code(23 downto 16),
      wide           => wide,
      added          => place_at_1_added
    );

  place_at_2 : entity work.tidegate_lane_place
    port map (
      specifier_byte => code(23 downto 16),
      index_byte     => code(31 downto 24),
      wide           => wide,
      added          => place_at_2_added
    );

  ------------------------------------------------------------------------------
  -- Sum

  with base_or_further_specifier select
    added <=
      "000"            when "00",
      place_at_1_added when "01",
      place_at_2_added when "10" | "11",
      (others => 'X')  when others;

  bytes_and_operand <= std_logic_vector(resize(unsigned(base_or_further_bytes), 5) + unsigned(added));

  -- longer instructions are left to the slow path
  is_short_enough <= is_below(bytes_and_operand, "01001");
  handled <= or_all(base_or_further_bytes) and is_short_enough;

  with handled select
    length_full <=
      "00000"           when '0',
      bytes_and_operand when '1',
      (others => 'X')   when others;

  length <= length_full(3 downto 0);

end architecture rtl;

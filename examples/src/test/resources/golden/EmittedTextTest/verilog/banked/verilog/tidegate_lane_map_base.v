//----------------------------------------------------------------------------------------------
// Block tidegate_lane_map_base
//
// Opcode map base: what each opcode says.
//
// Ports, with their widths in bits:
//   input   key           8  the code that is looked up
//   input   wide          1  mode wide
//   output  bytes         4  bytes without operand; 0: not handled
//   output  specifier     2  which operand specifier adds bytes; 0: none
//   output  next_map      1  which further map decides; 0: none
//   output  split         1  which table of the byte after the opcode decides; 0: none
//
// Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
//----------------------------------------------------------------------------------------------

`default_nettype none

module tidegate_lane_map_base (
  input  wire [7:0] key,
  input  wire       wide,
  output wire [3:0] bytes,
  output wire [1:0] specifier,
  output wire       next_map,
  output wire       split
);

  wire       bank;
  wire [7:0] key_bits_and_wide;
  wire       row_0_group1;
  wire       row_0_group2;
  wire       row_0;
  wire       row_1_group1;
  wire       row_1_group2;
  wire       row_1;
  wire       row_2_group1;
  wire       row_2_group2;
  wire       row_2;
  wire [6:0] key_bits;
  wire       row_4_group1;
  wire [5:0] key_bits_2;
  wire       row_4_group2;
  wire       row_4;
  wire       row_6_group1;
  wire       row_6;
  wire       row_7_group1;
  wire       row_7;
  wire [7:0] row;

  assign bank = key[5];

  // ---- Banks, selected by key 5 ----
  assign key_bits_and_wide = {wide, key[7:6], key[4:0]};

  function row_0_group1_table;
    input [7:0] address;
    casez (address)
      8'b?000_0011, 8'b?000_11??, 8'b?001_????, 8'b?01?_?00?, 8'b001?_?010, 8'b?100_????,
          8'b?110_0001, 8'b?110_001?, 8'b?110_1???, 8'b?111_0???, 8'b?111_1100, 8'b1011_0011:
          row_0_group1_table = 1'b0;
      default: row_0_group1_table = 1'b1;
    endcase
  endfunction
  assign row_0_group1 = row_0_group1_table(key_bits_and_wide);

  function row_0_group2_table;
    input [7:0] address;
    casez (address)
      8'b0000_000?, 8'b0000_0010, 8'b0000_10??, 8'b?0?0_1101, 8'b0010_1110, 8'b?011_????,
          8'b?100_00?0, 8'b?100_011?, 8'b?101_1???, 8'b?111_000?, 8'b1000_0000, 8'b10?0_10??,
          8'b10?0_1110, 8'b1001_11??: row_0_group2_table = 1'b1;
      default: row_0_group2_table = 1'b0;
    endcase
  endfunction
  assign row_0_group2 = row_0_group2_table(key_bits_and_wide);

  assign row_0 = bank ? row_0_group2 : row_0_group1;

  function row_1_group1_table;
    input [7:0] address;
    casez (address)
      8'b?000_000?, 8'b?000_0010, 8'b?000_01??, 8'b?000_10??, 8'b?01?_?1??, 8'b0011_1011,
          8'b0110_00?1, 8'b?110_01??, 8'b?110_1???, 8'b?111_1101, 8'b?111_111?, 8'b1011_?011,
          8'b1101_????, 8'b1110_0011: row_1_group1_table = 1'b0;
      default: row_1_group1_table = 1'b1;
    endcase
  endfunction
  assign row_1_group1 = row_1_group1_table(key_bits_and_wide);

  function row_1_group2_table;
    input [7:0] address;
    casez (address)
      8'b?000_10??, 8'b?0?0_1100, 8'b?0?0_1111, 8'b?011_????, 8'b0100_0010, 8'b?11?_????,
          8'b1000_0001, 8'b1000_0010, 8'b1100_00?0, 8'b1101_1???: row_1_group2_table = 1'b0;
      default: row_1_group2_table = 1'b1;
    endcase
  endfunction
  assign row_1_group2 = row_1_group2_table(key_bits_and_wide);

  assign row_1 = bank ? row_1_group2 : row_1_group1;

  function row_2_group1_table;
    input [7:0] address;
    casez (address)
      8'b?110_00?1, 8'b?111_1101, 8'b1011_0011, 8'b1101_????: row_2_group1_table = 1'b1;
      default: row_2_group1_table = 1'b0;
    endcase
  endfunction
  assign row_2_group1 = row_2_group1_table(key_bits_and_wide);

  function row_2_group2_table;
    input [7:0] address;
    casez (address)
      8'b?000_1100, 8'b1000_0001, 8'b1000_0010, 8'b1100_0000, 8'b1101_1???:
          row_2_group2_table = 1'b1;
      default: row_2_group2_table = 1'b0;
    endcase
  endfunction
  assign row_2_group2 = row_2_group2_table(key_bits_and_wide);

  assign row_2 = bank ? row_2_group2 : row_2_group1;
  assign key_bits = {key[7:6], key[4:0]};

  function row_4_group1_table;
    input [6:0] address;
    casez (address)
      7'b001_????, 7'b01?_?00?, 7'b010_?011, 7'b011_0011, 7'b110_000?, 7'b111_1100:
          row_4_group1_table = 1'b1;
      default: row_4_group1_table = 1'b0;
    endcase
  endfunction
  assign row_4_group1 = row_4_group1_table(key_bits);

  assign key_bits_2 = {key[7:6], key[4:1]};
  localparam [63:0] row_4_group2_table = 64'h00000004000f3f03;
  assign row_4_group2 = row_4_group2_table[key_bits_2];
  assign row_4 = bank ? row_4_group2 : row_4_group1;

  function row_6_group1_table;
    input [6:0] address;
    casez (address)
      7'b111_1110: row_6_group1_table = 1'b1;
      default: row_6_group1_table = 1'b0;
    endcase
  endfunction
  assign row_6_group1 = row_6_group1_table(key_bits);

  assign row_6 = bank & row_6_group1;

  function row_7_group1_table;
    input [6:0] address;
    casez (address)
      7'b010_1100: row_7_group1_table = 1'b1;
      default: row_7_group1_table = 1'b0;
    endcase
  endfunction
  assign row_7_group1 = row_7_group1_table(key_bits);

  assign row_7 = bank & row_7_group1;
  assign row = {row_7, row_6, 1'b0, row_4, 1'b0, row_2, row_1, row_0};

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];
  assign next_map = row[6];
  assign split = row[7];

endmodule

`default_nettype wire

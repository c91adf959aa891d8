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

  wire [8:0] key_and_wide;
  wire [7:0] row;

  assign key_and_wide = {wide, key};

  function [7:0] row_table;
    input [8:0] address;
    casez (address)
      9'b?_0?10_1111, 9'b?_1100_1???, 9'b?_1110_????, 9'b?_1111_001?, 9'b?_1111_01??,
          9'b?_1111_10??, 9'b?_1111_110?, 9'b?_1111_1111: row_table = 8'h00;
      9'b?_0000_000?, 9'b?_0000_0010, 9'b?_0000_01??, 9'b?_00?0_10??, 9'b?_010?_?1??,
          9'b?_0101_1011, 9'b?_0111_????, 9'b?_1010_0010, 9'b?_1100_01??, 9'b?_1101_111?,
          9'b?_1111_000?: row_table = 8'h01;
      9'b?_0?10_1101, 9'b0_0110_1110, 9'b0_1001_????, 9'b0_1010_0000, 9'b?_1010_011?,
          9'b0_1011_1???, 9'b?_1101_10??, 9'b1_0?10_1110, 9'b1_0011_11??, 9'b1_010?_?010,
          9'b1_0110_10??: row_table = 8'h03;
      9'b?_0010_1100, 9'b?_1100_0011: row_table = 8'h04;
      9'b?_1101_1101, 9'b1_1001_????, 9'b1_1010_0000, 9'b1_1011_1???: row_table = 8'h05;
      9'b?_0001_????, 9'b?_0010_0011, 9'b?_0011_0???, 9'b?_0011_10??, 9'b?_010?_?00?,
          9'b?_0110_0???, 9'b?_1010_010?, 9'b?_1101_1100: row_table = 8'h12;
      9'b0_0010_000?, 9'b0_0010_0010, 9'b?_0100_?011, 9'b0_0101_0011, 9'b?_1100_0000,
          9'b1_0010_0000: row_table = 8'h13;
      9'b0_1100_0001, 9'b1_0010_0001, 9'b1_0010_0010, 9'b1_0101_0011: row_table = 8'h14;
      9'b1_1100_0001: row_table = 8'h16;
      9'b?_1111_1110: row_table = 8'h40;
      9'b?_0110_1100: row_table = 8'h80;
      default: row_table = 8'h02;
    endcase
  endfunction
  assign row = row_table(key_and_wide);

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];
  assign next_map = row[6];
  assign split = row[7];

endmodule

`default_nettype wire

//----------------------------------------------------------------------------------------------
// Block tidegate_lane_map_survey
//
// Opcode map survey: what each opcode says.
//
// Ports, with their widths in bits:
//   input   key           8  the code that is looked up
//   input   wide          1  mode wide
//   output  bytes         4  bytes without operand; 0: not handled
//   output  specifier     2  which operand specifier adds bytes; 0: none
//
// Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
//----------------------------------------------------------------------------------------------

`default_nettype none

module tidegate_lane_map_survey (
  input  wire [7:0] key,
  input  wire       wide,
  output wire [3:0] bytes,
  output wire [1:0] specifier
);

  wire [8:0] key_and_wide;
  wire [5:0] row;

  assign key_and_wide = {wide, key};

  function [5:0] row_table;
    input [8:0] address;
    casez (address)
      9'b?_0000_????, 9'b?_01??_?001: row_table = 6'h02;
      9'b?_0010_0???, 9'b0_01??_?000: row_table = 6'h03;
      9'b0_1000_????, 9'b1_01??_?000: row_table = 6'h04;
      9'b1_1000_????: row_table = 6'h06;
      9'b?_1001_0000: row_table = 6'h07;
      9'b?_0001_????, 9'b?_0010_101?, 9'b?_0010_11??, 9'b?_01??_?01?: row_table = 6'h23;
      9'b0_0010_100?, 9'b1_0010_1001: row_table = 6'h24;
      9'b1_0010_1000: row_table = 6'h25;
      default: row_table = 6'h00;
    endcase
  endfunction
  assign row = row_table(key_and_wide);

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];

endmodule

`default_nettype wire

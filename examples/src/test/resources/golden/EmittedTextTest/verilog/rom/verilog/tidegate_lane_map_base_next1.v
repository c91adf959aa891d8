//----------------------------------------------------------------------------------------------
// Block tidegate_lane_map_base_next1
//
// Opcode map base: what the byte after some opcodes says.
//
// Ports, with their widths in bits:
//   input   key           8  the code that is looked up
//   output  bytes         4  bytes without operand; 0: not handled
//   output  specifier     2  which operand specifier adds bytes; 0: none
//   output  next_map      1  which further map decides; 0: none
//
// Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
//----------------------------------------------------------------------------------------------

`default_nettype none

module tidegate_lane_map_base_next1 (
  input  wire [7:0] key,
  output wire [3:0] bytes,
  output wire [1:0] specifier,
  output wire       next_map
);

  wire [6:0] row;

  function [6:0] row_table;
    input [7:0] address;
    casez (address)
      8'b001?_????: row_table = 7'h02;
      8'b000?_????: row_table = 7'h03;
      8'b01??_????: row_table = 7'h04;
      default: row_table = 7'h00;
    endcase
  endfunction
  assign row = row_table(key);

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];
  assign next_map = row[6];

endmodule

`default_nettype wire

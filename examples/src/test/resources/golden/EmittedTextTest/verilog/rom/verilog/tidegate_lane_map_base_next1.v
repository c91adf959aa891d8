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
// Figures of area, levels and speed are estimates. Timing closure and functional safety are
// for the device vendor's sign-off tools, local codes and licensed practice to establish.
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
    case (address)
      8'h20, 8'h21, 8'h22, 8'h23, 8'h24, 8'h25, 8'h26, 8'h27, 8'h28, 8'h29, 8'h2a, 8'h2b, 8'h2c,
          8'h2d, 8'h2e, 8'h2f, 8'h30, 8'h31, 8'h32, 8'h33, 8'h34, 8'h35, 8'h36, 8'h37, 8'h38, 8'h39,
          8'h3a, 8'h3b, 8'h3c, 8'h3d, 8'h3e, 8'h3f: row_table = 7'h02;
      8'h00, 8'h01, 8'h02, 8'h03, 8'h04, 8'h05, 8'h06, 8'h07, 8'h08, 8'h09, 8'h0a, 8'h0b, 8'h0c,
          8'h0d, 8'h0e, 8'h0f, 8'h10, 8'h11, 8'h12, 8'h13, 8'h14, 8'h15, 8'h16, 8'h17, 8'h18, 8'h19,
          8'h1a, 8'h1b, 8'h1c, 8'h1d, 8'h1e, 8'h1f: row_table = 7'h03;
      8'h40, 8'h41, 8'h42, 8'h43, 8'h44, 8'h45, 8'h46, 8'h47, 8'h48, 8'h49, 8'h4a, 8'h4b, 8'h4c,
          8'h4d, 8'h4e, 8'h4f, 8'h50, 8'h51, 8'h52, 8'h53, 8'h54, 8'h55, 8'h56, 8'h57, 8'h58, 8'h59,
          8'h5a, 8'h5b, 8'h5c, 8'h5d, 8'h5e, 8'h5f, 8'h60, 8'h61, 8'h62, 8'h63, 8'h64, 8'h65, 8'h66,
          8'h67, 8'h68, 8'h69, 8'h6a, 8'h6b, 8'h6c, 8'h6d, 8'h6e, 8'h6f, 8'h70, 8'h71, 8'h72, 8'h73,
          8'h74, 8'h75, 8'h76, 8'h77, 8'h78, 8'h79, 8'h7a, 8'h7b, 8'h7c, 8'h7d, 8'h7e, 8'h7f:
          row_table = 7'h04;
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

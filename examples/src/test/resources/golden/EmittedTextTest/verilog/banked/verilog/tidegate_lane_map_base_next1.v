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

  wire       row_0_group1;
  wire       row_1_group1;
  wire       row_2_group1;
  wire [6:0] row;

  // ---- Banks, selected by key 0 ----
  localparam [7:0] row_0_group1_table = 8'h01;
  assign row_0_group1 = row_0_group1_table[key[7:5]];
  localparam [3:0] row_1_group1_table = 4'h1;
  assign row_1_group1 = row_1_group1_table[key[7:6]];
  localparam [3:0] row_2_group1_table = 4'h2;
  assign row_2_group1 = row_2_group1_table[key[7:6]];
  assign row = {4'h0, row_2_group1, row_1_group1, row_0_group1};

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];
  assign next_map = row[6];

  // ---- Not used by this block; always 0, so that linters know it is meant ----
  wire unused_bits = &{1'b0, key[4:0]};

endmodule

`default_nettype wire

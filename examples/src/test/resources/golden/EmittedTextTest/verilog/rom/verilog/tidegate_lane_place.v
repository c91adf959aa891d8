//----------------------------------------------------------------------------------------------
// Block tidegate_lane_place
//
// Bytes that operand specifier place adds after its own byte.
//
// Ports, with their widths in bits:
//   input   specifier_byte     8  the operand specifier
//   input   index_byte         8  the byte after it
//   input   wide               1  mode wide
//   output  added              3  bytes added
//
// Figures are estimates; safety and timing need sign-off, local codes and licensed practice.
//----------------------------------------------------------------------------------------------

`default_nettype none

module tidegate_lane_place (
  input  wire [7:0] specifier_byte,
  input  wire [7:0] index_byte,
  input  wire       wide,
  output wire [2:0] added
);

  wire adds_3;
  wire adds_5;
  wire added_bit_0;
  wire added_bit_1;

  assign adds_3 = (specifier_byte[2:0] == 3'h7) & (specifier_byte[7:6] == 2'h0) & ~index_byte[0]
      & wide;
  assign adds_5 = (specifier_byte[2:0] == 3'h7) & (specifier_byte[7:6] == 2'h0) & index_byte[0]
      & wide;
  assign added_bit_0 = ((specifier_byte[2:0] == 3'h6) & (specifier_byte[7:6] == 2'h0))
      | (specifier_byte[7:6] == 2'h1) | adds_3 | adds_5;
  assign added_bit_1 = ((specifier_byte[2:0] == 3'h7) & (specifier_byte[7:6] == 2'h0) & ~wide)
      | (specifier_byte[7:6] == 2'h2) | adds_3;
  assign added = {adds_5, added_bit_1, added_bit_0};

  // ---- Not used by this block; always 0, so that linters know it is meant ----
  wire unused_bits = &{1'b0, specifier_byte[5:3], index_byte[7:1]};

endmodule

`default_nettype wire

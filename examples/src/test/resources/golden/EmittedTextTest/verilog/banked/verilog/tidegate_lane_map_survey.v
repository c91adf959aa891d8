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

  wire [3:0] bank;
  wire [5:0] key_bits_and_wide;
  wire       row_0_group1;
  wire       row_0_group2;
  reg        row_0;
  wire       row_1_group1;
  wire [5:0] key_bits_and_wide_2;
  wire       row_1_group2;
  reg        row_1;
  wire       row_2_group1;
  wire       row_2_group2;
  reg        row_2;
  wire [5:0] key_bits;
  wire       row_5_group1;
  wire [5:0] row;

  // ---- Banks, selected by key 4, key 5, key 6, key 7 ----
  assign bank = key[7:4];
  assign key_bits_and_wide = {wide, key[6], key[3:0]};
  localparam [63:0] row_0_group1_table = 64'h0c0cfdff0d0dfcff;
  assign row_0_group1 = row_0_group1_table[key_bits_and_wide];
  localparam [15:0] row_0_group2_table = 16'h0001;
  assign row_0_group2 = row_0_group2_table[key[3:0]];

  always @* begin
    case (bank)
      4'h1: row_0 = 1'b1;
      4'h2, 4'h4, 4'h5, 4'h6, 4'h7: row_0 = row_0_group1;
      4'h9: row_0 = row_0_group2;
      default: row_0 = 1'b0;
    endcase
  end

  localparam [63:0] row_1_group1_table = 64'h0e0efcff0f0ffcff;
  assign row_1_group1 = row_1_group1_table[key_bits_and_wide];
  assign key_bits_and_wide_2 = {wide, key[4:0]};
  localparam [63:0] row_1_group2_table = 64'h0001ffff00010000;
  assign row_1_group2 = row_1_group2_table[key_bits_and_wide_2];

  always @* begin
    case (bank)
      4'h0, 4'h1: row_1 = 1'b1;
      4'h2, 4'h4, 4'h5, 4'h6, 4'h7: row_1 = row_1_group1;
      4'h8, 4'h9: row_1 = row_1_group2;
      default: row_1 = 1'b0;
    endcase
  end

  localparam [63:0] row_2_group1_table = 64'h0101030000000300;
  assign row_2_group1 = row_2_group1_table[key_bits_and_wide];
  localparam [15:0] row_2_group2_table = 16'h0001;
  assign row_2_group2 = row_2_group2_table[key[3:0]];

  always @* begin
    case (bank)
      4'h2, 4'h4, 4'h5, 4'h6, 4'h7: row_2 = row_2_group1;
      4'h8: row_2 = 1'b1;
      4'h9: row_2 = row_2_group2;
      default: row_2 = 1'b0;
    endcase
  end

  assign key_bits = {key[7:3], key[1]};
  localparam [63:0] row_5_group1_table = 64'h00000000aaaa0cf0;
  assign row_5_group1 = row_5_group1_table[key_bits];
  assign row = {row_5_group1, 2'h0, row_2, row_1, row_0};

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];

endmodule

`default_nettype wire

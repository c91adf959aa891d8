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
// Figures of area, levels and speed are estimates. Timing closure and functional safety are
// for the device vendor's sign-off tools, local codes and licensed practice to establish.
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
  wire [7:0] bits;
  wire       row_0_group1;
  wire [7:0] bits_2;
  wire       row_0_group2;
  wire       row_0;
  wire [7:0] bits_3;
  wire       row_1_group1;
  wire [7:0] bits_4;
  wire       row_1_group2;
  wire       row_1;
  wire [7:0] bits_5;
  wire       row_2_group1;
  wire [7:0] bits_6;
  wire       row_2_group2;
  wire       row_2;
  wire       row_3;
  wire [6:0] bits_7;
  wire       row_4_group1;
  wire       row_4_group2;
  wire       row_4;
  wire       row_5;
  wire [6:0] bits_8;
  wire       row_6_group1;
  wire       row_6;
  wire [6:0] bits_9;
  wire       row_7_group1;
  wire       row_7;
  wire [7:0] row;

  assign bank = key[5];

  // ---- Banks, selected by key 5 ----
  assign bits = {wide, key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_0_group1_table;
    input [7:0] address;
    case (address)
      8'h00, 8'h01, 8'h02, 8'h04, 8'h05, 8'h06, 8'h07, 8'h08, 8'h09, 8'h0a, 8'h0b, 8'h23, 8'h24,
          8'h25, 8'h26, 8'h27, 8'h2b, 8'h2c, 8'h2d, 8'h2e, 8'h2f, 8'h33, 8'h34, 8'h35, 8'h36, 8'h37,
          8'h3b, 8'h3c, 8'h3d, 8'h3e, 8'h3f, 8'h50, 8'h51, 8'h52, 8'h53, 8'h54, 8'h55, 8'h56, 8'h57,
          8'h58, 8'h59, 8'h5a, 8'h5b, 8'h5c, 8'h5d, 8'h5e, 8'h5f, 8'h60, 8'h64, 8'h65, 8'h66, 8'h67,
          8'h78, 8'h79, 8'h7a, 8'h7b, 8'h7d, 8'h7e, 8'h7f, 8'h80, 8'h81, 8'h82, 8'h84, 8'h85, 8'h86,
          8'h87, 8'h88, 8'h89, 8'h8a, 8'h8b, 8'ha2, 8'ha3, 8'ha4, 8'ha5, 8'ha6, 8'ha7, 8'haa, 8'hab,
          8'hac, 8'had, 8'hae, 8'haf, 8'hb2, 8'hb4, 8'hb5, 8'hb6, 8'hb7, 8'hba, 8'hbb, 8'hbc, 8'hbd,
          8'hbe, 8'hbf, 8'hd0, 8'hd1, 8'hd2, 8'hd3, 8'hd4, 8'hd5, 8'hd6, 8'hd7, 8'hd8, 8'hd9, 8'hda,
          8'hdb, 8'hdc, 8'hdd, 8'hde, 8'hdf, 8'he0, 8'he4, 8'he5, 8'he6, 8'he7, 8'hf8, 8'hf9, 8'hfa,
          8'hfb, 8'hfd, 8'hfe, 8'hff: row_0_group1_table = 1'b1;
      default: row_0_group1_table = 1'b0;
    endcase
  endfunction
  assign row_0_group1 = row_0_group1_table(bits);

  assign bits_2 = {wide, key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_0_group2_table;
    input [7:0] address;
    case (address)
      8'h00, 8'h01, 8'h02, 8'h08, 8'h09, 8'h0a, 8'h0b, 8'h0d, 8'h2d, 8'h2e, 8'h30, 8'h31, 8'h32,
          8'h33, 8'h34, 8'h35, 8'h36, 8'h37, 8'h38, 8'h39, 8'h3a, 8'h3b, 8'h3c, 8'h3d, 8'h3e, 8'h3f,
          8'h40, 8'h42, 8'h46, 8'h47, 8'h58, 8'h59, 8'h5a, 8'h5b, 8'h5c, 8'h5d, 8'h5e, 8'h5f, 8'h70,
          8'h71, 8'h80, 8'h88, 8'h89, 8'h8a, 8'h8b, 8'h8d, 8'h8e, 8'h9c, 8'h9d, 8'h9e, 8'h9f, 8'ha8,
          8'ha9, 8'haa, 8'hab, 8'had, 8'hae, 8'hb0, 8'hb1, 8'hb2, 8'hb3, 8'hb4, 8'hb5, 8'hb6, 8'hb7,
          8'hb8, 8'hb9, 8'hba, 8'hbb, 8'hbc, 8'hbd, 8'hbe, 8'hbf, 8'hc0, 8'hc2, 8'hc6, 8'hc7, 8'hd8,
          8'hd9, 8'hda, 8'hdb, 8'hdc, 8'hdd, 8'hde, 8'hdf, 8'hf0, 8'hf1: row_0_group2_table = 1'b1;
      default: row_0_group2_table = 1'b0;
    endcase
  endfunction
  assign row_0_group2 = row_0_group2_table(bits_2);

  assign row_0 = bank ? row_0_group2 : row_0_group1;
  assign bits_3 = {wide, key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_1_group1_table;
    input [7:0] address;
    case (address)
      8'h00, 8'h01, 8'h02, 8'h04, 8'h05, 8'h06, 8'h07, 8'h08, 8'h09, 8'h0a, 8'h0b, 8'h24, 8'h25,
          8'h26, 8'h27, 8'h2c, 8'h2d, 8'h2e, 8'h2f, 8'h34, 8'h35, 8'h36, 8'h37, 8'h3b, 8'h3c, 8'h3d,
          8'h3e, 8'h3f, 8'h61, 8'h63, 8'h64, 8'h65, 8'h66, 8'h67, 8'h68, 8'h69, 8'h6a, 8'h6b, 8'h6c,
          8'h6d, 8'h6e, 8'h6f, 8'h7d, 8'h7e, 8'h7f, 8'h80, 8'h81, 8'h82, 8'h84, 8'h85, 8'h86, 8'h87,
          8'h88, 8'h89, 8'h8a, 8'h8b, 8'ha4, 8'ha5, 8'ha6, 8'ha7, 8'hac, 8'had, 8'hae, 8'haf, 8'hb3,
          8'hb4, 8'hb5, 8'hb6, 8'hb7, 8'hbb, 8'hbc, 8'hbd, 8'hbe, 8'hbf, 8'hd0, 8'hd1, 8'hd2, 8'hd3,
          8'hd4, 8'hd5, 8'hd6, 8'hd7, 8'hd8, 8'hd9, 8'hda, 8'hdb, 8'hdc, 8'hdd, 8'hde, 8'hdf, 8'he3,
          8'he4, 8'he5, 8'he6, 8'he7, 8'he8, 8'he9, 8'hea, 8'heb, 8'hec, 8'hed, 8'hee, 8'hef, 8'hfd,
          8'hfe, 8'hff: row_1_group1_table = 1'b0;
      default: row_1_group1_table = 1'b1;
    endcase
  endfunction
  assign row_1_group1 = row_1_group1_table(bits_3);

  assign bits_4 = {wide, key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_1_group2_table;
    input [7:0] address;
    case (address)
      8'h08, 8'h09, 8'h0a, 8'h0b, 8'h0c, 8'h0f, 8'h2c, 8'h2f, 8'h30, 8'h31, 8'h32, 8'h33, 8'h34,
          8'h35, 8'h36, 8'h37, 8'h38, 8'h39, 8'h3a, 8'h3b, 8'h3c, 8'h3d, 8'h3e, 8'h3f, 8'h42, 8'h60,
          8'h61, 8'h62, 8'h63, 8'h64, 8'h65, 8'h66, 8'h67, 8'h68, 8'h69, 8'h6a, 8'h6b, 8'h6c, 8'h6d,
          8'h6e, 8'h6f, 8'h70, 8'h71, 8'h72, 8'h73, 8'h74, 8'h75, 8'h76, 8'h77, 8'h78, 8'h79, 8'h7a,
          8'h7b, 8'h7c, 8'h7d, 8'h7e, 8'h7f, 8'h81, 8'h82, 8'h88, 8'h89, 8'h8a, 8'h8b, 8'h8c, 8'h8f,
          8'hac, 8'haf, 8'hb0, 8'hb1, 8'hb2, 8'hb3, 8'hb4, 8'hb5, 8'hb6, 8'hb7, 8'hb8, 8'hb9, 8'hba,
          8'hbb, 8'hbc, 8'hbd, 8'hbe, 8'hbf, 8'hc0, 8'hc2, 8'hd8, 8'hd9, 8'hda, 8'hdb, 8'hdc, 8'hdd,
          8'hde, 8'hdf, 8'he0, 8'he1, 8'he2, 8'he3, 8'he4, 8'he5, 8'he6, 8'he7, 8'he8, 8'he9, 8'hea,
          8'heb, 8'hec, 8'hed, 8'hee, 8'hef, 8'hf0, 8'hf1, 8'hf2, 8'hf3, 8'hf4, 8'hf5, 8'hf6, 8'hf7,
          8'hf8, 8'hf9, 8'hfa, 8'hfb, 8'hfc, 8'hfd, 8'hfe, 8'hff: row_1_group2_table = 1'b0;
      default: row_1_group2_table = 1'b1;
    endcase
  endfunction
  assign row_1_group2 = row_1_group2_table(bits_4);

  assign row_1 = bank ? row_1_group2 : row_1_group1;
  assign bits_5 = {wide, key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_2_group1_table;
    input [7:0] address;
    case (address)
      8'h61, 8'h63, 8'h7d, 8'hb3, 8'hd0, 8'hd1, 8'hd2, 8'hd3, 8'hd4, 8'hd5, 8'hd6, 8'hd7, 8'hd8,
          8'hd9, 8'hda, 8'hdb, 8'hdc, 8'hdd, 8'hde, 8'hdf, 8'he1, 8'he3, 8'hfd:
          row_2_group1_table = 1'b1;
      default: row_2_group1_table = 1'b0;
    endcase
  endfunction
  assign row_2_group1 = row_2_group1_table(bits_5);

  assign bits_6 = {wide, key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_2_group2_table;
    input [7:0] address;
    case (address)
      8'h0c, 8'h81, 8'h82, 8'h8c, 8'hc0, 8'hd8, 8'hd9, 8'hda, 8'hdb, 8'hdc, 8'hdd, 8'hde, 8'hdf:
          row_2_group2_table = 1'b1;
      default: row_2_group2_table = 1'b0;
    endcase
  endfunction
  assign row_2_group2 = row_2_group2_table(bits_6);

  assign row_2 = bank ? row_2_group2 : row_2_group1;
  assign row_3 = bank ? 1'b0 : 1'b0;
  assign bits_7 = {key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_4_group1_table;
    input [6:0] address;
    case (address)
      7'h10, 7'h11, 7'h12, 7'h13, 7'h14, 7'h15, 7'h16, 7'h17, 7'h18, 7'h19, 7'h1a, 7'h1b, 7'h1c,
          7'h1d, 7'h1e, 7'h1f, 7'h20, 7'h21, 7'h23, 7'h28, 7'h29, 7'h2b, 7'h30, 7'h31, 7'h33, 7'h38,
          7'h39, 7'h60, 7'h61, 7'h7c: row_4_group1_table = 1'b1;
      default: row_4_group1_table = 1'b0;
    endcase
  endfunction
  assign row_4_group1 = row_4_group1_table(bits_7);

  localparam [63:0] row_4_group2_table = 64'h00000004000f3f03;
  assign row_4_group2 = row_4_group2_table[{key[7], key[6], key[4], key[3], key[2], key[1]}];
  assign row_4 = bank ? row_4_group2 : row_4_group1;
  assign row_5 = bank ? 1'b0 : 1'b0;
  assign bits_8 = {key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_6_group1_table;
    input [6:0] address;
    case (address)
      7'h7e: row_6_group1_table = 1'b1;
      default: row_6_group1_table = 1'b0;
    endcase
  endfunction
  assign row_6_group1 = row_6_group1_table(bits_8);

  assign row_6 = bank ? row_6_group1 : 1'b0;
  assign bits_9 = {key[7], key[6], key[4], key[3], key[2], key[1], key[0]};

  function row_7_group1_table;
    input [6:0] address;
    case (address)
      7'h2c: row_7_group1_table = 1'b1;
      default: row_7_group1_table = 1'b0;
    endcase
  endfunction
  assign row_7_group1 = row_7_group1_table(bits_9);

  assign row_7 = bank ? row_7_group1 : 1'b0;
  assign row = {row_7, row_6, row_5, row_4, row_3, row_2, row_1, row_0};

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];
  assign next_map = row[6];
  assign split = row[7];

endmodule

`default_nettype wire

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

  wire [8:0] bits;
  wire [7:0] row;

  assign bits = {wide, key};

  function [7:0] row_table;
    input [8:0] address;
    case (address)
      9'h02f, 9'h06f, 9'h0c8, 9'h0c9, 9'h0ca, 9'h0cb, 9'h0cc, 9'h0cd, 9'h0ce, 9'h0cf, 9'h0e0,
          9'h0e1, 9'h0e2, 9'h0e3, 9'h0e4, 9'h0e5, 9'h0e6, 9'h0e7, 9'h0e8, 9'h0e9, 9'h0ea, 9'h0eb,
          9'h0ec, 9'h0ed, 9'h0ee, 9'h0ef, 9'h0f2, 9'h0f3, 9'h0f4, 9'h0f5, 9'h0f6, 9'h0f7, 9'h0f8,
          9'h0f9, 9'h0fa, 9'h0fb, 9'h0fc, 9'h0fd, 9'h0ff, 9'h12f, 9'h16f, 9'h1c8, 9'h1c9, 9'h1ca,
          9'h1cb, 9'h1cc, 9'h1cd, 9'h1ce, 9'h1cf, 9'h1e0, 9'h1e1, 9'h1e2, 9'h1e3, 9'h1e4, 9'h1e5,
          9'h1e6, 9'h1e7, 9'h1e8, 9'h1e9, 9'h1ea, 9'h1eb, 9'h1ec, 9'h1ed, 9'h1ee, 9'h1ef, 9'h1f2,
          9'h1f3, 9'h1f4, 9'h1f5, 9'h1f6, 9'h1f7, 9'h1f8, 9'h1f9, 9'h1fa, 9'h1fb, 9'h1fc, 9'h1fd,
          9'h1ff: row_table = 8'h00;
      9'h000, 9'h001, 9'h002, 9'h004, 9'h005, 9'h006, 9'h007, 9'h008, 9'h009, 9'h00a, 9'h00b,
          9'h028, 9'h029, 9'h02a, 9'h02b, 9'h044, 9'h045, 9'h046, 9'h047, 9'h04c, 9'h04d, 9'h04e,
          9'h04f, 9'h054, 9'h055, 9'h056, 9'h057, 9'h05b, 9'h05c, 9'h05d, 9'h05e, 9'h05f, 9'h070,
          9'h071, 9'h072, 9'h073, 9'h074, 9'h075, 9'h076, 9'h077, 9'h078, 9'h079, 9'h07a, 9'h07b,
          9'h07c, 9'h07d, 9'h07e, 9'h07f, 9'h0a2, 9'h0c4, 9'h0c5, 9'h0c6, 9'h0c7, 9'h0de, 9'h0df,
          9'h0f0, 9'h0f1, 9'h100, 9'h101, 9'h102, 9'h104, 9'h105, 9'h106, 9'h107, 9'h108, 9'h109,
          9'h10a, 9'h10b, 9'h128, 9'h129, 9'h12a, 9'h12b, 9'h144, 9'h145, 9'h146, 9'h147, 9'h14c,
          9'h14d, 9'h14e, 9'h14f, 9'h154, 9'h155, 9'h156, 9'h157, 9'h15b, 9'h15c, 9'h15d, 9'h15e,
          9'h15f, 9'h170, 9'h171, 9'h172, 9'h173, 9'h174, 9'h175, 9'h176, 9'h177, 9'h178, 9'h179,
          9'h17a, 9'h17b, 9'h17c, 9'h17d, 9'h17e, 9'h17f, 9'h1a2, 9'h1c4, 9'h1c5, 9'h1c6, 9'h1c7,
          9'h1de, 9'h1df, 9'h1f0, 9'h1f1: row_table = 8'h01;
      9'h02d, 9'h06d, 9'h06e, 9'h090, 9'h091, 9'h092, 9'h093, 9'h094, 9'h095, 9'h096, 9'h097,
          9'h098, 9'h099, 9'h09a, 9'h09b, 9'h09c, 9'h09d, 9'h09e, 9'h09f, 9'h0a0, 9'h0a6, 9'h0a7,
          9'h0b8, 9'h0b9, 9'h0ba, 9'h0bb, 9'h0bc, 9'h0bd, 9'h0be, 9'h0bf, 9'h0d8, 9'h0d9, 9'h0da,
          9'h0db, 9'h12d, 9'h12e, 9'h13c, 9'h13d, 9'h13e, 9'h13f, 9'h142, 9'h14a, 9'h152, 9'h15a,
          9'h168, 9'h169, 9'h16a, 9'h16b, 9'h16d, 9'h16e, 9'h1a6, 9'h1a7, 9'h1d8, 9'h1d9, 9'h1da,
          9'h1db: row_table = 8'h03;
      9'h02c, 9'h0c3, 9'h12c, 9'h1c3: row_table = 8'h04;
      9'h0dd, 9'h190, 9'h191, 9'h192, 9'h193, 9'h194, 9'h195, 9'h196, 9'h197, 9'h198, 9'h199,
          9'h19a, 9'h19b, 9'h19c, 9'h19d, 9'h19e, 9'h19f, 9'h1a0, 9'h1b8, 9'h1b9, 9'h1ba, 9'h1bb,
          9'h1bc, 9'h1bd, 9'h1be, 9'h1bf, 9'h1dd: row_table = 8'h05;
      9'h010, 9'h011, 9'h012, 9'h013, 9'h014, 9'h015, 9'h016, 9'h017, 9'h018, 9'h019, 9'h01a,
          9'h01b, 9'h01c, 9'h01d, 9'h01e, 9'h01f, 9'h023, 9'h030, 9'h031, 9'h032, 9'h033, 9'h034,
          9'h035, 9'h036, 9'h037, 9'h038, 9'h039, 9'h03a, 9'h03b, 9'h040, 9'h041, 9'h048, 9'h049,
          9'h050, 9'h051, 9'h058, 9'h059, 9'h060, 9'h061, 9'h062, 9'h063, 9'h064, 9'h065, 9'h066,
          9'h067, 9'h0a4, 9'h0a5, 9'h0dc, 9'h110, 9'h111, 9'h112, 9'h113, 9'h114, 9'h115, 9'h116,
          9'h117, 9'h118, 9'h119, 9'h11a, 9'h11b, 9'h11c, 9'h11d, 9'h11e, 9'h11f, 9'h123, 9'h130,
          9'h131, 9'h132, 9'h133, 9'h134, 9'h135, 9'h136, 9'h137, 9'h138, 9'h139, 9'h13a, 9'h13b,
          9'h140, 9'h141, 9'h148, 9'h149, 9'h150, 9'h151, 9'h158, 9'h159, 9'h160, 9'h161, 9'h162,
          9'h163, 9'h164, 9'h165, 9'h166, 9'h167, 9'h1a4, 9'h1a5, 9'h1dc: row_table = 8'h12;
      9'h020, 9'h021, 9'h022, 9'h043, 9'h04b, 9'h053, 9'h0c0, 9'h120, 9'h143, 9'h14b, 9'h1c0:
          row_table = 8'h13;
      9'h0c1, 9'h121, 9'h122, 9'h153: row_table = 8'h14;
      9'h1c1: row_table = 8'h16;
      9'h0fe, 9'h1fe: row_table = 8'h40;
      9'h06c, 9'h16c: row_table = 8'h80;
      default: row_table = 8'h02;
    endcase
  endfunction
  assign row = row_table(bits);

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];
  assign next_map = row[6];
  assign split = row[7];

endmodule

`default_nettype wire

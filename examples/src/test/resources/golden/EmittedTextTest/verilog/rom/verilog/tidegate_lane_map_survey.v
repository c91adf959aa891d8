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
// Figures of area, levels and speed are estimates. Timing closure and functional safety are
// for the device vendor's sign-off tools, local codes and licensed practice to establish.
//----------------------------------------------------------------------------------------------

`default_nettype none

module tidegate_lane_map_survey (
  input  wire [7:0] key,
  input  wire       wide,
  output wire [3:0] bytes,
  output wire [1:0] specifier
);

  wire [8:0] bits;
  wire [5:0] row;

  assign bits = {wide, key};

  function [5:0] row_table;
    input [8:0] address;
    case (address)
      9'h000, 9'h001, 9'h002, 9'h003, 9'h004, 9'h005, 9'h006, 9'h007, 9'h008, 9'h009, 9'h00a,
          9'h00b, 9'h00c, 9'h00d, 9'h00e, 9'h00f, 9'h041, 9'h049, 9'h051, 9'h059, 9'h061, 9'h069,
          9'h071, 9'h079, 9'h100, 9'h101, 9'h102, 9'h103, 9'h104, 9'h105, 9'h106, 9'h107, 9'h108,
          9'h109, 9'h10a, 9'h10b, 9'h10c, 9'h10d, 9'h10e, 9'h10f, 9'h141, 9'h149, 9'h151, 9'h159,
          9'h161, 9'h169, 9'h171, 9'h179: row_table = 6'h02;
      9'h020, 9'h021, 9'h022, 9'h023, 9'h024, 9'h025, 9'h026, 9'h027, 9'h040, 9'h048, 9'h050,
          9'h058, 9'h060, 9'h068, 9'h070, 9'h078, 9'h120, 9'h121, 9'h122, 9'h123, 9'h124, 9'h125,
          9'h126, 9'h127: row_table = 6'h03;
      9'h080, 9'h081, 9'h082, 9'h083, 9'h084, 9'h085, 9'h086, 9'h087, 9'h088, 9'h089, 9'h08a,
          9'h08b, 9'h08c, 9'h08d, 9'h08e, 9'h08f, 9'h140, 9'h148, 9'h150, 9'h158, 9'h160, 9'h168,
          9'h170, 9'h178: row_table = 6'h04;
      9'h180, 9'h181, 9'h182, 9'h183, 9'h184, 9'h185, 9'h186, 9'h187, 9'h188, 9'h189, 9'h18a,
          9'h18b, 9'h18c, 9'h18d, 9'h18e, 9'h18f: row_table = 6'h06;
      9'h090, 9'h190: row_table = 6'h07;
      9'h010, 9'h011, 9'h012, 9'h013, 9'h014, 9'h015, 9'h016, 9'h017, 9'h018, 9'h019, 9'h01a,
          9'h01b, 9'h01c, 9'h01d, 9'h01e, 9'h01f, 9'h02a, 9'h02b, 9'h02c, 9'h02d, 9'h02e, 9'h02f,
          9'h042, 9'h043, 9'h04a, 9'h04b, 9'h052, 9'h053, 9'h05a, 9'h05b, 9'h062, 9'h063, 9'h06a,
          9'h06b, 9'h072, 9'h073, 9'h07a, 9'h07b, 9'h110, 9'h111, 9'h112, 9'h113, 9'h114, 9'h115,
          9'h116, 9'h117, 9'h118, 9'h119, 9'h11a, 9'h11b, 9'h11c, 9'h11d, 9'h11e, 9'h11f, 9'h12a,
          9'h12b, 9'h12c, 9'h12d, 9'h12e, 9'h12f, 9'h142, 9'h143, 9'h14a, 9'h14b, 9'h152, 9'h153,
          9'h15a, 9'h15b, 9'h162, 9'h163, 9'h16a, 9'h16b, 9'h172, 9'h173, 9'h17a, 9'h17b:
          row_table = 6'h23;
      9'h028, 9'h029, 9'h129: row_table = 6'h24;
      9'h128: row_table = 6'h25;
      default: row_table = 6'h00;
    endcase
  endfunction
  assign row = row_table(bits);

  // ---- Outputs ----
  assign bytes = row[3:0];
  assign specifier = row[5:4];

endmodule

`default_nettype wire

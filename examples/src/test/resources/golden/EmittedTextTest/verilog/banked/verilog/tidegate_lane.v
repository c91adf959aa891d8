//----------------------------------------------------------------------------------------------
// Block tidegate_lane
//
// Length of the instruction of tidegate that starts at byte 0; 0 where the lane does not
// handle it.
//
// Ports, with their widths in bits:
//   input   code      32  the bytes that the lane sees, its own in bits 7 to 0
//   input   wide       1  mode wide
//   output  length     4  bytes of the instruction; 0: not handled
//
// Facts:
//   description: tidegate
//   style: banked
//   bytes seen: 4
//   longest length: 8
//   left out: survey 0x30-0x3f
//   latency: 0 cycles
//
// Figures of area, levels and speed are estimates. Timing closure and functional safety are
// for the device vendor's sign-off tools, local codes and licensed practice to establish.
//----------------------------------------------------------------------------------------------

`default_nettype none

module tidegate_lane (
  input  wire [31:0] code,
  input  wire        wide,
  output wire  [3:0] length
);

  wire [3:0] map_base_bytes;
  wire [1:0] map_base_specifier;
  wire       map_base_next_map;
  wire       map_base_split;
  wire [3:0] map_base_next1_bytes;
  wire [1:0] map_base_next1_specifier;
  wire       map_base_next1_next_map;
  wire [3:0] base_bytes;
  wire [1:0] base_specifier;
  wire       base_next_map;
  wire [3:0] map_survey_bytes;
  wire [1:0] map_survey_specifier;
  wire [3:0] base_or_further_bytes;
  wire [1:0] base_or_further_specifier;
  wire [2:0] place_at_1_added;
  wire [2:0] place_at_2_added;
  wire [2:0] added;
  wire [4:0] bytes_and_operand;
  wire       is_short_enough;
  wire       handled;
  wire [4:0] length_full;

  // ---- Opcode maps ----
  tidegate_lane_map_base map_base (
    .key       (code[7:0]),
    .wide      (wide),
    .bytes     (map_base_bytes),
    .specifier (map_base_specifier),
    .next_map  (map_base_next_map),
    .split     (map_base_split)
  );

  tidegate_lane_map_base_next1 map_base_next1 (
    .key       (code[15:8]),
    .bytes     (map_base_next1_bytes),
    .specifier (map_base_next1_specifier),
    .next_map  (map_base_next1_next_map)
  );

  assign base_bytes = map_base_split ? map_base_next1_bytes : map_base_bytes;
  assign base_specifier = map_base_split ? map_base_next1_specifier : map_base_specifier;
  assign base_next_map = map_base_split ? map_base_next1_next_map : map_base_next_map;

  tidegate_lane_map_survey map_survey (
    .key       (code[15:8]),
    .wide      (wide),
    .bytes     (map_survey_bytes),
    .specifier (map_survey_specifier)
  );

  assign base_or_further_bytes = base_next_map ? map_survey_bytes : base_bytes;
  assign base_or_further_specifier = base_next_map ? map_survey_specifier : base_specifier;

  // ---- Operand specifiers ----
  tidegate_lane_place place_at_1 (
    .specifier_byte (code[15:8]),
    .index_byte     (code[23:16]),
    .wide           (wide),
    .added          (place_at_1_added)
  );

  tidegate_lane_place place_at_2 (
    .specifier_byte (code[23:16]),
    .index_byte     (code[31:24]),
    .wide           (wide),
    .added          (place_at_2_added)
  );

  // ---- Sum ----
  assign added = (base_or_further_specifier == 2'h0) ? 3'h0 :
      (base_or_further_specifier == 2'h1) ? place_at_1_added : place_at_2_added;
  assign bytes_and_operand = {1'b0, base_or_further_bytes} + {2'h0, added};
  // longer instructions are left to the slow path
  assign is_short_enough = bytes_and_operand < 5'h09;
  assign handled = (|base_or_further_bytes) & is_short_enough;
  assign length_full = handled ? bytes_and_operand : 5'h00;

  // ---- Outputs ----
  assign length = length_full[3:0];

  // ---- Not used by this block; always 0, so that linters know it is meant ----
  wire unused_bits = &{1'b0, length_full[4]};

endmodule

`default_nettype wire

/* What the programs of the tidal lock gate share. They use no library: the code is all ours. */
#ifndef TIDEGATE_H
#define TIDEGATE_H

typedef unsigned char u8;
typedef unsigned short u16;
typedef short s16;
typedef unsigned int u32;

/* A reading of the water level and of the gate. */
struct reading {
  u32 minute;
  s16 level_mm;
  s16 gate_mm;
  u16 motor_ma;
  u8 sensor;
  u8 flags;
  double flow;
};

/* Each runs one part of the controller and returns a checksum. */
u32 tide_table(u32 days);
u32 gate_control(u32 minutes);
u32 log_sort(u32 readings);
u32 command_parser(u32 rounds);

/* A sequence that repeats from run to run. */
u32 next_random(u32 *state);

#endif

/* Holds the level in the lock by moving the gate: a loop of 16-bit fixed-point control. */
#include "tidegate.h"

enum state { CLOSED, OPENING, HOLDING, CLOSING, FAULT };

struct loop {
  s16 target;
  s16 level;
  s16 gate;
  s16 last_error;
  int integral;
  s16 kp, ki, kd;
  u16 faults;
  u8 state;
  u8 hold;
};

static struct loop loops[4];

static s16 clamp(int value, s16 least, s16 most) {
  return value < least ? least : value > most ? most : (s16)value;
}

static void control(struct loop *l, s16 outside) {
  s16 error = l->target - l->level;
  l->integral += error;
  if (l->integral > 40000) {
    l->integral = 40000;
  } else if (l->integral < -40000) {
    l->integral = -40000;
  }
  int drive = (l->kp * error + ((l->ki * l->integral) >> 6) + l->kd * (error - l->last_error)) >> 8;
  l->last_error = error;
  s16 wanted = clamp(l->gate + drive, 0, 3000);
  switch (l->state) {
    case CLOSED:
      l->state = wanted > 20 ? OPENING : CLOSED;
      break;
    case OPENING:
      l->gate = clamp(l->gate + 37, 0, wanted);
      l->state = l->gate == wanted ? HOLDING : OPENING;
      l->hold = 0;
      break;
    case HOLDING:
      if (++l->hold > 5) {
        l->state = wanted < l->gate ? CLOSING : OPENING;
      }
      break;
    case CLOSING:
      l->gate = clamp(l->gate - 53, wanted, 3000);
      l->state = l->gate < 20 ? CLOSED : l->gate == wanted ? HOLDING : CLOSING;
      break;
    default:
      l->gate = 0;
      l->faults++;
      l->state = CLOSED;
  }
  int flow = ((outside - l->level) * l->gate) / 4096;
  l->level = clamp(l->level + flow, -500, 7000);
  if (l->level > 6800) {
    l->state = FAULT;
  }
}

u32 gate_control(u32 minutes) {
  u32 random = 7, sum = 0;
  for (u32 i = 0; i < 4; i++) {
    struct loop fresh = {(s16)(2500 + 300 * i), 1000, 0, 0, 0, 90, 5, (s16)(20 * i), 0, CLOSED, 0};
    loops[i] = fresh;
  }
  s16 outside = 3200;
  for (u32 minute = 0; minute < minutes; minute++) {
    outside = clamp(outside + (s16)(next_random(&random) % 61) - 30, 200, 6500);
    for (u32 i = 0; i < 4; i++) {
      control(&loops[i], outside);
      sum += (u16)loops[i].level ^ (u32)loops[i].state << (i + 16);
    }
  }
  return sum + loops[3].faults;
}

/* Predicts the tide from its harmonic constituents and finds the high and low waters. */
#include "tidegate.h"

struct constituent {
  double metres;
  double degrees_per_hour;
  double phase;
};

/* The speeds are those of the main constituents, from memory; amplitudes and phases are invented. */
static const struct constituent CONSTITUENTS[] = {
  {2.10, 28.9841042, 84.0}, {0.72, 30.0000000, 121.0}, {0.41, 28.4397295, 63.0},
  {0.19, 15.0410686, 201.0}, {0.13, 13.9430356, 310.0}, {0.06, 57.9682084, 12.0},
};

static double cosine(double degrees) {
  int turns = (int)(degrees / 360.0);
  double x = degrees - 360.0 * turns;
  double sign = 1.0;
  if (x > 180.0) {
    x = 360.0 - x;
  }
  if (x > 90.0) {
    x = 180.0 - x;
    sign = -1.0;
  }
  double r = x * 0.017453292519943295;
  double q = r * r;
  return sign * (1.0 - q / 2 * (1.0 - q / 12 * (1.0 - q / 30 * (1.0 - q / 56))));
}

static float levels[24 * 6];

u32 tide_table(u32 days) {
  u32 sum = 0;
  float before = 0, last = 0;
  for (u32 day = 0; day < days; day++) {
    for (u32 step = 0; step < 24 * 6; step++) {
      double hour = day * 24.0 + step / 6.0;
      double level = 3.2;
      for (u32 i = 0; i < sizeof CONSTITUENTS / sizeof CONSTITUENTS[0]; i++) {
        const struct constituent *c = &CONSTITUENTS[i];
        level += c->metres * cosine(c->degrees_per_hour * hour + c->phase);
      }
      levels[step] = (float)level;
    }
    for (u32 step = 0; step < 24 * 6; step++) {
      float now = levels[step];
      if ((last > before && last > now) || (last < before && last < now)) {
        sum = sum * 31 + step + (u32)(last * 100.0f);
      }
      before = last;
      last = now;
    }
  }
  return sum;
}

/* Sorts the sensors' readings by time and sensor, and finds the median flow of each. */
#include "tidegate.h"

#define MOST 4096

static struct reading log[MOST], spare[MOST];
static u32 order[MOST];

static int compare(const struct reading *a, const struct reading *b) {
  if (a->minute != b->minute) {
    return a->minute < b->minute ? -1 : 1;
  }
  return (int)a->sensor - (int)b->sensor;
}

static void copy(struct reading *to, const struct reading *from, u32 count) {
  __builtin_memcpy(to, from, sizeof *from);
  for (u32 i = 1; i < count; i++) {
    to[i] = from[i];
  }
}

static void merge_sort(u32 from, u32 to) {
  if (to - from < 2) {
    return;
  }
  u32 middle = from + (to - from) / 2;
  merge_sort(from, middle);
  merge_sort(middle, to);
  u32 i = from, j = middle, n = from;
  while (i < middle || j < to) {
    int first = j == to || (i < middle && compare(&log[i], &log[j]) <= 0);
    spare[n++] = first ? log[i++] : log[j++];
  }
  copy(&log[from], &spare[from], to - from);
}

static void sift(u32 *heap, u32 root, u32 count) {
  u32 moved = heap[root];
  u32 child;
  while ((child = 2 * root + 1) < count) {
    if (child + 1 < count && log[heap[child]].flow < log[heap[child + 1]].flow) {
      child++;
    }
    if (log[moved].flow >= log[heap[child]].flow) {
      break;
    }
    heap[root] = heap[child];
    root = child;
  }
  heap[root] = moved;
}

u32 log_sort(u32 readings) {
  u32 random = 11, sum = 0;
  u32 count = readings < MOST ? readings : MOST;
  for (u32 i = 0; i < count; i++) {
    u32 r = next_random(&random);
    struct reading one = {r % 1440, (s16)(r >> 8), (s16)(r >> 20), (u16)r, (u8)(r >> 3) & 7,
      (u8)(r & 0x81), (double)(r >> 12) / 16.0};
    log[i] = one;
  }
  merge_sort(0, count);
  for (u8 sensor = 0; sensor < 8; sensor++) {
    u32 found = 0;
    for (u32 i = 0; i < count; i++) {
      if (log[i].sensor == sensor && !(log[i].flags & 0x80)) {
        order[found++] = i;
      }
    }
    for (u32 i = found / 2; i-- > 0;) {
      sift(order, i, found);
    }
    for (u32 i = found; i-- > found / 2 + 1;) {
      u32 top = order[0];
      order[0] = order[i];
      order[i] = top;
      sift(order, 0, i);
    }
    sum = sum * 17 + (u32)log[order[0]].flow + log[order[0]].minute;
  }
  return sum;
}

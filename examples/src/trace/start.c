/* Runs the parts of the controller one after the other and prints a checksum. */
#include "tidegate.h"

u32 next_random(u32 *state) {
  *state = *state * 1664525u + 1013904223u;
  return *state >> 4;
}

/* The compiler calls these for copies and fills of structures. */
void *memcpy(void *to, const void *from, unsigned long count) {
  void *first = to;
  __asm__ volatile("rep movsb" : "+D"(to), "+S"(from), "+c"(count) : : "memory");
  return first;
}

void *memset(void *to, int value, unsigned long count) {
  void *first = to;
  __asm__ volatile("rep stosb" : "+D"(to), "+c"(count) : "a"(value) : "memory");
  return first;
}

static void say(u32 value) {
  char text[9];
  for (int i = 7; i >= 0; i--, value >>= 4) {
    text[i] = "0123456789abcdef"[value & 15];
  }
  text[8] = '\n';
  u32 result;
  __asm__ volatile("int $0x80" : "=a"(result) : "0"(4), "b"(1), "c"(text), "d"(9) : "memory");
}

static u32 run(void) {
  u32 sum = 0;
  for (u32 day = 0; day < 2; day++) {
    sum = sum * 7 + tide_table(3);
    sum = sum * 7 + gate_control(2000);
    sum = sum * 7 + log_sort(900);
    sum = sum * 7 + command_parser(12);
  }
  return sum;
}

__attribute__((force_align_arg_pointer)) void _start(void) {
  say(run());
  __asm__ volatile("int $0x80" : : "a"(1), "b"(0));
  __builtin_unreachable();
}

/* A program with a code footprint of tens of kilobytes: sorting, formatted text, patterns, floating point. */
#include <math.h>
#include <regex.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static unsigned state = 1;

static unsigned next(void) {
  state ^= state << 13;
  state ^= state >> 17;
  state ^= state << 5;
  return state;
}

static int ascending(const void *a, const void *b) {
  unsigned x = *(const unsigned *)a, y = *(const unsigned *)b;
  return (x > y) - (x < y);
}

int main(void) {
  unsigned levels[64];
  char text[256];
  regex_t pattern;
  double sum = 0;
  int matches = 0;
  if (regcomp(&pattern, "gate ([0-9]+): (open|closed), level [0-9]*[02468]\\.5", REG_EXTENDED)) return 2;
  for (int round = 0; round < 12; round++) {
    for (int i = 0; i < 64; i++) levels[i] = next() % 1000;
    qsort(levels, 64, sizeof levels[0], ascending);
    for (int i = 0; i < 64; i += 8) {
      snprintf(text, sizeof text, "gate %d: %s, level %.1f", i, next() & 1 ? "open" : "closed", levels[i] * 0.5);
      matches += regexec(&pattern, text, 0, NULL, 0) == 0;
      sum += sqrt(strtod(strrchr(text, ' ') + 1, NULL)) + sin(levels[i]);
    }
  }
  regfree(&pattern);
  printf("%d matches, %.3f\n", matches, sum);
  return 0;
}

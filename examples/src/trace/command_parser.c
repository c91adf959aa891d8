/* Reads the operator's commands, looks names up in a table, and answers with checked text. */
#include "tidegate.h"

static const char TEXT[] =
    "open gate north 1200; set level inner 2450; close gate south; show log 15;\n"
    "set limit motor 0x3f2; alarm off; open sluice 3 75%; show tide tomorrow;;\n"
    "bogus 12 ; set level outer -120; hold 00:45; close all; show version\n";

static const char *const WORDS[] = {
  "open", "close", "set", "show", "hold", "alarm", "gate", "sluice", "level", "limit", "log",
  "tide", "north", "south", "inner", "outer", "motor", "off", "on", "all", "version", "tomorrow",
};

struct entry {
  const char *word;
  u32 hash;
  u32 uses;
  struct entry *next;
};

static struct entry entries[64];
static struct entry *buckets[16];
static char answer[256];

static u32 hash_of(const char *text, u32 length) {
  u32 hash = 2166136261u;
  while (length--) {
    hash = (hash ^ (u8)*text++) * 16777619u;
  }
  return hash;
}

static int is_word(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

static int is_digit(char c) {
  return c >= '0' && c <= '9';
}

static u32 length_of(const char *text) {
  u32 n = 0;
  while (text[n]) {
    n++;
  }
  return n;
}

static struct entry *look_up(const char *text, u32 length) {
  u32 hash = hash_of(text, length);
  for (struct entry *e = buckets[hash & 15]; e; e = e->next) {
    if (e->hash == hash) {
      u32 i = 0;
      while (i < length && e->word[i] == text[i]) {
        i++;
      }
      if (i == length && !e->word[i]) {
        return e;
      }
    }
  }
  return 0;
}

static int number(const char **at) {
  const char *p = *at;
  int sign = 1, value = 0;
  if (*p == '-') {
    sign = -1;
    p++;
  }
  if (p[0] == '0' && p[1] == 'x') {
    for (p += 2; is_digit(*p) || (*p >= 'a' && *p <= 'f'); p++) {
      value = value * 16 + (*p <= '9' ? *p - '0' : *p - 'a' + 10);
    }
  } else {
    for (; is_digit(*p); p++) {
      value = value * 10 + (*p - '0');
    }
  }
  *at = p;
  return sign * value;
}

static u32 put_number(char *to, int value) {
  char digits[12];
  u32 n = 0, out = 0;
  u32 rest = value < 0 ? (u32)-value : (u32)value;
  do {
    digits[n++] = (char)('0' + rest % 10);
    rest /= 10;
  } while (rest);
  if (value < 0) {
    to[out++] = '-';
  }
  while (n) {
    to[out++] = digits[--n];
  }
  return out;
}

static u16 check(const char *text, u32 length) {
  u16 crc = 0xffff;
  for (u32 i = 0; i < length; i++) {
    crc ^= (u16)((u8)text[i] << 8);
    for (int bit = 0; bit < 8; bit++) {
      crc = (u16)(crc & 0x8000 ? crc << 1 ^ 0x1021 : crc << 1);
    }
  }
  return crc;
}

static u32 command(const char **at) {
  u32 out = 0;
  int last = 0;
  const char *p = *at;
  while (*p && *p != ';' && *p != '\n') {
    switch (*p) {
      case ' ': case '\t': case ':': case '%':
        p++;
        break;
      case '-': case '0': case '1': case '2': case '3': case '4':
      case '5': case '6': case '7': case '8': case '9':
        last = number(&p);
        out += put_number(answer + out, last);
        break;
      default: {
        const char *start = p;
        while (is_word(*p)) {
          p++;
        }
        struct entry *e = look_up(start, (u32)(p - start));
        if (e) {
          e->uses++;
          answer[out++] = e->word[0];
        } else {
          answer[out++] = '?';
        }
        p += p == start;
      }
    }
    answer[out++] = ' ';
    if (out > 200) {
      break;
    }
  }
  *at = *p ? p + 1 : p;
  return check(answer, out) + (u32)last;
}

u32 command_parser(u32 rounds) {
  u32 sum = 0;
  for (u32 i = 0; i < 16; i++) {
    buckets[i] = 0;
  }
  for (u32 i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
    struct entry *e = &entries[i];
    e->word = WORDS[i];
    e->hash = hash_of(WORDS[i], length_of(WORDS[i]));
    e->uses = 0;
    e->next = buckets[e->hash & 15];
    buckets[e->hash & 15] = e;
  }
  for (u32 round = 0; round < rounds; round++) {
    const char *p = TEXT;
    while (*p) {
      sum = sum * 3 + command(&p);
    }
  }
  for (u32 i = 0; i < sizeof WORDS / sizeof WORDS[0]; i++) {
    sum += entries[i].uses << (i & 7);
  }
  return sum;
}

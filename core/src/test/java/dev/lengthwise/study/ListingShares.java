package dev.lengthwise.study;

import dev.lengthwise.testing.Tool;
import java.util.ArrayList;
import java.util.List;

/**
 * Counts by hand, from the text that objdump prints, how many instructions three lanes handle. Uses
 * nothing of this project but the runner of tools: opcodes with a ModR/M byte and the groups are
 * those of the <i>Intel 64 and IA-32 Architectures Software Developer's Manual</i>, volume 2,
 * appendix A, table A-2, from memory.
 */
final class ListingShares {

  /** One letter for each one-byte opcode: M has a ModR/M byte, a row of 16 opcodes a line. */
  private static final String MODRM =
      "MMMM....MMMM...."
          + "MMMM....MMMM...."
          + "MMMM....MMMM...."
          + "MMMM....MMMM...."
          + "................"
          + "................"
          + "..MM.....M.M...."
          + "................"
          + "MMMMMMMMMMMMMMMM"
          + "................"
          + "................"
          + "................"
          + "MM..MMMM........"
          + "MMMM....MMMMMMMM"
          + "................"
          + "......MM......MM";

  private final List<int[]> instructions = new ArrayList<>();

  /** Lists a file's code. */
  ListingShares(Object file) {
    Tool.named("objdump", "binutils")
        .run(60, "--disassemble", "--disassemble-zeroes", "--wide", file)
        .lines()
        .filter(line -> line.matches(" *[0-9a-f]+:\\t.*"))
        .map(line -> line.split("\\t", -1)[1].trim().split(" +", -1))
        .forEach(hex -> instructions.add(bytes(hex)));
  }

  private static int[] bytes(String[] hex) {
    int[] bytes = new int[hex.length];
    for (int i = 0; i < hex.length; i++) {
      bytes[i] = Integer.parseInt(hex[i], 16);
    }
    return bytes;
  }

  int all() {
    return instructions.size();
  }

  private static int prefixes(int[] bytes) {
    int n = 0;
    while (List.of(0xf0, 0xf2, 0xf3, 0x26, 0x2e, 0x36, 0x3e, 0x64, 0x65, 0x66, 0x67)
        .contains(bytes[n])) {
      n++;
    }
    return n;
  }

  private static boolean hasModRm(int opcode) {
    return MODRM.charAt(opcode) == 'M';
  }

  /** No prefix, no escape, nothing after the opcode read. */
  int opcodeAlone() {
    int count = 0;
    for (int[] b : instructions) {
      boolean longer = hasModRm(b[0]) || b[0] == 0x0f;
      count += prefixes(b) == 0 && !longer ? 1 : 0;
    }
    return count;
  }

  /** Prefixes are items; one-byte map alone, groups 3 left out, at most 6 bytes behind prefixes. */
  int oneByteMap() {
    int count = 0;
    for (int[] b : instructions) {
      int n = prefixes(b);
      boolean group3 = b[n] == 0xf6 || b[n] == 0xf7;
      boolean vex = (b[n] == 0xc4 || b[n] == 0xc5) && b[n + 1] >= 0xc0;
      count += b[n] != 0x0f && !group3 && !vex && b.length - n <= 6 ? 1 : 0;
    }
    return count;
  }

  /** At most one prefix, looked through; at most 8 bytes; six bytes seen. */
  int everythingWithOnePrefix() {
    int count = 0;
    for (int[] b : instructions) {
      int n = prefixes(b);
      count += n <= 1 && b.length <= 8 && lastRead(b, n) < 6 ? 1 : 0;
    }
    return count;
  }

  /** Returns the last byte that the length depends on. */
  private static int lastRead(int[] b, int n) {
    int opcode = n;
    boolean modRm;
    if (b[n] == 0x0f && (b[n + 1] == 0x38 || b[n + 1] == 0x3a)) {
      opcode = n + 2;
      modRm = true;
    } else if (b[n] == 0x0f) {
      opcode = n + 1;
      modRm = twoByteModRm(b[opcode]);
    } else if ((b[n] == 0xc4 || b[n] == 0xc5) && b[n + 1] >= 0xc0) {
      opcode = n + (b[n] == 0xc4 ? 3 : 2);
      modRm = b[opcode] != 0x77; // VZEROUPPER
    } else {
      modRm = hasModRm(b[n]) || b[n] == 0x62;
    }
    if (!modRm) {
      return opcode;
    }
    // Addresses of 16 bits, behind 67, have no SIB byte; with mod 0 and rm 4 it decides.
    boolean wide = n == 0 || b[n - 1] != 0x67;
    int mod = b[opcode + 1] >> 6;
    return opcode + (wide && mod == 0 && (b[opcode + 1] & 7) == 4 ? 2 : 1);
  }

  /** Two-byte opcodes without ModR/M, as far as compilers and libraries use them. */
  private static boolean twoByteModRm(int opcode) {
    boolean without =
        opcode >= 0x05 && opcode <= 0x0b // SYSCALL to UD2
            || opcode >= 0x30 && opcode <= 0x37 // WRMSR to GETSEC
            || opcode == 0x77 // EMMS
            || opcode >= 0x80 && opcode <= 0x8f // Jcc
            || opcode >= 0xa0 && opcode <= 0xa2 // PUSH FS, POP FS, CPUID
            || opcode >= 0xa8 && opcode <= 0xaa // PUSH GS, POP GS, RSM
            || opcode >= 0xc8 && opcode <= 0xcf; // BSWAP
    return !without;
  }
}

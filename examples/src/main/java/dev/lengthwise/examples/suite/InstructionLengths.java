package dev.lengthwise.examples.suite;

import static dev.lengthwise.examples.suite.WordTables.bits;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.Row;
import java.util.Arrays;
import java.util.List;

/** Lengths of instructions of five sets, from memory of the manuals that each names. */
final class InstructionLengths {

  private InstructionLengths() {}

  static List<SuiteFunction> all() {
    return List.of(ia32(), riscv(), virtualMachine(), mcs51(), vax());
  }

  /**
   * The map of the first opcode byte: inputs the opcode and the two modes, outputs the bytes and
   * whether an operand byte follows. Other rows than those of plain instructions do not matter.
   */
  private static SuiteFunction ia32() {
    LengthTable table = Ia32.instructionSet().table();
    OpcodeMap map = table.map(Ia32.ONE_BYTE);
    return SuiteFunction.of(
        "ia32_one_byte",
        "the sources that Ia32 names",
        WordTables.of(
            10,
            4,
            x -> {
              Row.Instruction row = (Row.Instruction) map.row(x & 0xff);
              int modes = x >> 8;
              return row.bytesUnder(table.modes(), modes) | (row.specifier().isPresent() ? 8 : 0);
            },
            x -> map.row(x & 0xff) instanceof Row.Instruction));
  }

  /** The parcels of 16 bits of an instruction, by its first; what is reserved does not matter. */
  private static SuiteFunction riscv() {
    return SuiteFunction.of(
            "riscv_parcels",
            "The RISC-V Instruction Set Manual, volume I, expanded instruction-length encoding",
            WordTables.of(
                16,
                4,
                x -> {
                  if (bits(x, 0, 2) != 3) {
                    return 1;
                  }
                  if (bits(x, 2, 3) != 7) {
                    return 2;
                  }
                  return bits(x, 5, 1) == 0 ? 3 : bits(x, 6, 1) == 0 ? 4 : 5 + bits(x, 12, 3);
                },
                x -> bits(x, 0, 7) != 0x7f || bits(x, 12, 3) != 7))
        .withFormula(
            "reg [3:0] r;",
            "always @* casez (x[6:0])",
            "  7'b1111111: r = x[14:12] == 3'd7 ? 4'bx : 4'd5 + x[14:12];",
            "  7'b0111111: r = 4;",
            "  7'b?011111: r = 3;",
            "  7'b?????11: r = 2;",
            "  default: r = 1;",
            "endcase",
            "assign y = r;");
  }

  /** The bytes of an instruction, and whether they vary; those do not matter then. */
  private static SuiteFunction virtualMachine() {
    int[] lengths = new int[256];
    Arrays.fill(lengths, 0x00, 0xca, 1);
    for (int opcode : new int[] {0x10, 0x12, 0xa9, 0xbc}) {
      lengths[opcode] = 2;
    }
    Arrays.fill(lengths, 0x15, 0x1a, 2);
    Arrays.fill(lengths, 0x36, 0x3b, 2);
    for (int opcode : new int[] {0x11, 0x13, 0x14, 0x84, 0xbb, 0xbd, 0xc0, 0xc1, 0xc6, 0xc7}) {
      lengths[opcode] = 3;
    }
    Arrays.fill(lengths, 0x99, 0xa9, 3);
    Arrays.fill(lengths, 0xb2, 0xb9, 3);
    lengths[0xc5] = 4;
    for (int opcode : new int[] {0xb9, 0xba, 0xc8, 0xc9}) {
      lengths[opcode] = 5;
    }
    List<Integer> varying = List.of(0xaa, 0xab, 0xc4);
    return SuiteFunction.of(
        "jvm_length",
        "The Java Virtual Machine Specification, Java SE 17, chapter 6",
        WordTables.joined(
            WordTables.of(8, 3, x -> lengths[x], x -> lengths[x] != 0 && !varying.contains(x)),
            WordTables.of(8, 1, x -> varying.contains(x) ? 1 : 0, x -> lengths[x] != 0)));
  }

  /** The bytes of an instruction; A5 is reserved. */
  private static SuiteFunction mcs51() {
    // A line for each value of the low half of the opcode, a digit for each of the high half.
    List<String> lines =
        List.of(
            "1333222223222211",
            "2222222222222222",
            "3311222222222211",
            "1111333111111111",
            "1122222212131111",
            "2222222332032322",
            "1111111221231111");
    String registers = "1111111221231211";
    return SuiteFunction.of(
        "mcs51_length",
        "MCS-51 Microcontroller Family User's Manual, instruction opcodes in hexadecimal order",
        WordTables.of(
            8,
            2,
            x -> {
              int low = x & 15;
              String line = low >= 8 ? registers : lines.get(Math.min(low, 6));
              return Character.digit(line.charAt(x >> 4), 10);
            },
            x -> x != 0xa5));
  }

  /**
   * The bytes of an operand specifier, by its first byte and the logarithm of the operand's bytes,
   * and whether it is an index, behind which the specifier proper follows.
   */
  private static SuiteFunction vax() {
    return SuiteFunction.of(
        "vax_specifier",
        "VAX Architecture Reference Manual, operand specifiers",
        WordTables.of(
            11,
            6,
            x -> {
              int mode = bits(x, 4, 4);
              boolean counter = bits(x, 0, 4) == 15;
              int bytes =
                  switch (mode) {
                    case 8 -> counter ? 1 + (1 << bits(x, 8, 3)) : 1;
                    case 9 -> counter ? 5 : 1;
                    case 10, 11 -> 2;
                    case 12, 13 -> 3;
                    case 14, 15 -> 5;
                    default -> 1;
                  };
              return bytes | (mode == 4 ? 32 : 0);
            },
            // The program counter as a register, and sizes that no operand has, mean nothing.
            x ->
                bits(x, 8, 3) <= 4
                    && (bits(x, 0, 4) != 15 || (x >> 4 & 15) < 4 || (x >> 4 & 15) > 7)));
  }
}

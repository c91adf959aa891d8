package dev.lengthwise.isa;

import dev.lengthwise.isa.Ia32Coding.Cell;
import java.util.Arrays;
import java.util.Optional;

/** The kinds of cells that only one side defines, with the manual's word on each. */
enum Ia32CellDifference {
  /** Bound registers are BND0 to BND3; 16-bit addresses are undefined with them. */
  BOUND_REGISTER(true),
  /** LFENCE, MFENCE and SFENCE do not look at r/m (table A-6); the decoder wants 0 for SFENCE. */
  FENCE_OPERAND(true),
  /** A gather must not use one register twice, or 16-bit addresses (section 2.3.12). */
  GATHER_OPERANDS(true),
  /** Complex products (maps 5 and 6) must not write a register that they read. */
  COMPLEX_OPERANDS(true),
  /** Cells of {@link Ia32Extension#VEX_LATER} or others that are newer than the decoder. */
  NEWER(true),

  /** Segment registers 6 and 7, and MOV to CS, do not exist. */
  SEGMENT_REGISTER(false),
  /** Group 2 /6 is blank in table A-6; an alias of /4. */
  SHIFT_ALIAS(false),
  /** Group 3 /1 is blank in table A-6; an alias of /0. */
  TEST_ALIAS(false),
  /** FENI, FDISI, FSETPM and FRSTPM (DB E0, E1, E4, E5), of older coprocessors; blank. */
  OLD_X87(false),
  /** Control registers other than 0, 2, 3 and 4 do not exist outside of 64-bit code. */
  CONTROL_REGISTER(false),
  /** Moves to and from test registers (0F 24, 0F 26); blank in table A-3. */
  TEST_REGISTER(false),
  /** RDFSBASE, RDGSBASE, WRFSBASE, WRGSBASE and SWAPGS, for 64-bit mode only. */
  ONLY_64_BIT(false),
  /** VMOVNTDQ stores to memory only (volume 2, MOVNTDQ). */
  STORE_TO_REGISTER(false);

  private static final int[] GATHERS = {0x90, 0x91, 0x92, 0x93};
  private static final int[] SCATTERS = {0xa0, 0xa1, 0xa2, 0xa3, 0xc6, 0xc7};

  private final boolean ours;

  Ia32CellDifference(boolean ours) {
    this.ours = ours;
  }

  /**
   * Classifies a cell that one side defines.
   *
   * @param cell the cell
   * @param ours whether the description defines it, rather than the decoder
   * @param bits the segment's size
   */
  static Optional<Ia32CellDifference> of(Cell cell, boolean ours, int bits) {
    Ia32CellDifference found = ours ? onlyOurs(cell, bits) : onlyTheirs(cell);
    return Optional.ofNullable(found).filter(difference -> difference.ours == ours);
  }

  private static Ia32CellDifference onlyOurs(Cell cell, int bits) {
    if (cell.is(Ia32Coding.LEGACY, 1, 0x1a, 0x1b)) {
      return bits == 16 || cell.digit() > 3 ? BOUND_REGISTER : null;
    }
    if (cell.is(Ia32Coding.LEGACY, 1, 0xae) && cell.modRm() > 0xf8) {
      return FENCE_OPERAND;
    }
    boolean gather =
        cell.is(Ia32Coding.VEX, 2, GATHERS)
            || cell.is(Ia32Coding.EVEX, 2, GATHERS)
            || cell.is(Ia32Coding.EVEX, 2, SCATTERS);
    if (gather) {
      // In 32-bit code the filler's index register is number 2.
      return bits == 16 || cell.digit() == 2 ? GATHER_OPERANDS : null;
    }
    if (cell.is(Ia32Coding.EVEX, 6, 0x56, 0x57, 0xd6, 0xd7)) {
      return cell.digit() < 2 ? COMPLEX_OPERANDS : null;
    }
    boolean newer =
        cell.is(Ia32Coding.VEX, 2, 0x72, 0xb0, 0xb1, 0xb4, 0xb5)
            || cell.is(Ia32Coding.VEX, 2, 0xcb, 0xcc, 0xcd, 0xd2, 0xd3, 0xda)
            || cell.is(Ia32Coding.VEX, 3, 0xde);
    return newer ? NEWER : null;
  }

  private static Ia32CellDifference onlyTheirs(Cell cell) {
    if (cell.is(Ia32Coding.EVEX, 1, 0xe7)) {
      return cell.isRegister() ? STORE_TO_REGISTER : null;
    }
    if (cell.coding() != Ia32Coding.LEGACY || cell.map() > 1) {
      return null;
    }
    return cell.map() == 0
        ? switch (cell.opcode()) {
          case 0x8c, 0x8e ->
              cell.digit() > 5 || cell.is(Ia32Coding.LEGACY, 0, 0x8e) ? SEGMENT_REGISTER : null;
          case 0xc0, 0xc1, 0xd0, 0xd1, 0xd2, 0xd3 -> cell.digit() == 6 ? SHIFT_ALIAS : null;
          case 0xf6, 0xf7 -> cell.digit() == 1 ? TEST_ALIAS : null;
          case 0xdb -> isOneOf(cell.modRm(), 0xe0, 0xe1, 0xe4, 0xe5) ? OLD_X87 : null;
          default -> null;
        }
        : switch (cell.opcode()) {
          case 0x01 -> cell.modRm() == 0xf8 ? ONLY_64_BIT : null;
          case 0x20, 0x22 -> isOneOf(cell.digit(), 0, 2, 3, 4) ? null : CONTROL_REGISTER;
          case 0x24, 0x26 -> TEST_REGISTER;
          case 0xae -> cell.isRegister() && cell.digit() < 4 ? ONLY_64_BIT : null;
          default -> null;
        };
  }

  private static boolean isOneOf(int value, int... values) {
    return Arrays.stream(values).anyMatch(v -> v == value);
  }
}

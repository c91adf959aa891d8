package dev.lengthwise.isa;

import java.util.Optional;

/**
 * The kinds of byte strings that only one side accepts, with the manual's word on each.
 *
 * <p>Where only the description has a length, the string raises an invalid-opcode exception for a
 * reason that no length depends on; where only the decoder has one, the manual's cell is blank or
 * marked as not for this mode.
 */
enum Ia32Difference {
  /** LOCK: only before listed instructions with a memory destination (volume 2A, LOCK). */
  LOCK_NOT_ALLOWED(Side.DESCRIPTION),
  /** LOCK, 66, F2 or F3 before a VEX prefix is undefined (sections 2.3.2 to 2.3.4). */
  PREFIX_BEFORE_VEX(Side.DESCRIPTION),
  /** VEX.vvvv must be 1111 where no operand is coded in it, or name a mask register below 8. */
  VEX_VVVV(Side.DESCRIPTION),
  /** The cell of tables is blank for this pp, or the instruction rejects this L or W. */
  VEX_FIELDS(Side.DESCRIPTION),
  /** A gather must not use one register twice, or 16-bit addresses (section 2.3.12). */
  GATHER_OPERANDS(Side.DESCRIPTION),
  /** The cell of tables is blank for the prefixes present but not for others. */
  MANDATORY_PREFIX(Side.DESCRIPTION),
  /** Bound registers are BND0 to BND3; higher numbers, and 16-bit addresses, are undefined. */
  BOUND_REGISTER(Side.DESCRIPTION),
  /** The decoder files the prefix and cell under an extension that the manual does not contain. */
  OTHER_EXTENSION(Side.DESCRIPTION),
  /** The same, where that extension's immediates would exceed 15 bytes. */
  OTHER_EXTENSION_TOO_LONG(Side.DESCRIPTION, true),

  /** Group 2 /6 is blank in table A-6; an alias of /4. */
  SHIFT_ALIAS(Side.DECODER),
  /** Group 3 /1 is blank in table A-6; an alias of /0. */
  TEST_ALIAS(Side.DECODER),
  /** D6 is blank in table A-2. */
  BLANK_D6(Side.DECODER),
  /** x87 register forms that are blank in tables; aliases of others. */
  X87_ALIAS(Side.DECODER),
  /** SYSCALL and SYSRET are marked o64, for 64-bit mode only, in table A-3. */
  ONLY_64_BIT(Side.DECODER),
  /** Group P has PREFETCHW /1 and PREFETCHWT1 /2 with memory operands only. */
  PREFETCH_HINT(Side.DECODER),
  /** EVEX-coded forms are not described. */
  EVEX(Side.DECODER, true);

  private static final int DECODING_ERROR = 1;
  private static final int TOO_LONG = 2;
  private static final int BAD_REGISTER = 3;
  private static final int ILLEGAL_LOCK = 4;
  private static final int ILLEGAL_LEGACY_PREFIX = 5;
  private static final int ANY_MANDATORY = Ia32Cell.P66 | Ia32Cell.PF2 | Ia32Cell.PF3;

  /** Who accepts a string. */
  enum Side {
    /** The description under test. */
    DESCRIPTION,
    /** The decoder that it is compared with. */
    DECODER
  }

  private final Side side;
  private final boolean rare;

  Ia32Difference(Side side) {
    this(side, false);
  }

  Ia32Difference(Side side, boolean rare) {
    this.side = side;
    this.rare = rare;
  }

  /** Returns the only side that accepts strings of this kind. */
  Side side() {
    return side;
  }

  /** Tells whether a run of some million strings may miss it. */
  boolean isRare() {
    return rare;
  }

  /** Classifies a string that the decoder accepts under an extension that is not in the manual. */
  static Optional<Ia32Difference> filedElsewhere(Ia32Cell cell) {
    boolean other = cell.is(1, 0x2b) || cell.is(1, 0x78) || cell.is(1, 0x79);
    return other && cell.has(ANY_MANDATORY) ? Optional.of(OTHER_EXTENSION) : Optional.empty();
  }

  /** Classifies a string that only the description accepts, by the decoder's status. */
  static Optional<Ia32Difference> onlyOurs(Ia32Cell cell, boolean address32, int status) {
    return Optional.ofNullable(
        switch (status) {
          case DECODING_ERROR -> undefinedChoice(cell, address32);
          case TOO_LONG -> cell.is(1, 0x78) ? OTHER_EXTENSION_TOO_LONG : null;
          case BAD_REGISTER -> badRegister(cell);
          case ILLEGAL_LOCK -> cell.has(Ia32Cell.PF0) ? LOCK_NOT_ALLOWED : null;
          case ILLEGAL_LEGACY_PREFIX ->
              cell.isVex() && cell.has(ANY_MANDATORY | Ia32Cell.PF0) ? PREFIX_BEFORE_VEX : null;
          default -> null;
        });
  }

  private static Ia32Difference undefinedChoice(Ia32Cell cell, boolean address32) {
    if (isGather(cell) && !address32) {
      return GATHER_OPERANDS;
    }
    if (isBound(cell) && !address32) {
      return BOUND_REGISTER;
    }
    if (cell.map() >= 4 && cell.map() < Ia32Cell.MAPS) {
      return VEX_FIELDS;
    }
    return cell.map() >= 1 && cell.map() <= 3 ? MANDATORY_PREFIX : null;
  }

  private static Ia32Difference badRegister(Ia32Cell cell) {
    if (isGather(cell)) {
      return GATHER_OPERANDS;
    }
    if (cell.isVex() && (cell.vex() >> 3 & 15) != 15) {
      return VEX_VVVV;
    }
    boolean highRegister = cell.digit() > 3 || cell.isRegister() && (cell.modRm() & 7) > 3;
    return isBound(cell) && highRegister ? BOUND_REGISTER : null;
  }

  private static boolean isGather(Ia32Cell cell) {
    return cell.map() == 6 && cell.opcode() >= 0x90 && cell.opcode() <= 0x93;
  }

  private static boolean isBound(Ia32Cell cell) {
    return cell.is(1, 0x1a) || cell.is(1, 0x1b);
  }

  /** Classifies a string that only the decoder accepts. */
  static Optional<Ia32Difference> onlyTheirs(Ia32Cell cell) {
    if (cell.map() == 9) {
      return Optional.of(EVEX);
    }
    if (cell.map() == 1) {
      return Optional.ofNullable(
          switch (cell.opcode()) {
            case 0x05, 0x07 -> ONLY_64_BIT;
            case 0x0d -> PREFETCH_HINT;
            default -> null;
          });
    }
    return cell.map() != 0
        ? Optional.empty()
        : Optional.ofNullable(
            switch (cell.opcode()) {
              case 0xc0, 0xc1, 0xd0, 0xd1, 0xd2, 0xd3 -> cell.digit() == 6 ? SHIFT_ALIAS : null;
              case 0xf6, 0xf7 -> cell.digit() == 1 ? TEST_ALIAS : null;
              case 0xd6 -> BLANK_D6;
              case 0xd9, 0xdb, 0xdc, 0xdd, 0xde, 0xdf -> cell.isRegister() ? X87_ALIAS : null;
              default -> null;
            });
  }
}

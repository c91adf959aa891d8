package dev.lengthwise.isa;

import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.util.Arrays;
import java.util.Set;

/**
 * IA-32 in segments of 16- and 32-bit code: the one-, two- and three-byte opcode maps and their
 * VEX-coded forms.
 *
 * <p>Source of every row: <i>Intel 64 and IA-32 Architectures Software Developer's Manual</i>,
 * volume 2, chapter 2 (instruction format, tables 2-1 to 2-3, the VEX prefix in section 2.3) and
 * appendix A (opcode maps, tables ), from memory, as of the editions of 2022. Table
 * numbers in this package are of that volume.
 *
 * <p>A cell that is blank in the maps is undefined, as is one that the manual marks for 64-bit mode
 * only. Lengths never depend on the prefixes F0, F2 and F3 nor on the fields L, W, pp and vvvv of a
 * VEX prefix; an opcode is defined here if the manual defines it with at least one choice of them,
 * so a choice that raises an invalid-opcode exception still has its length.
 *
 * <p>WAIT (9B) is an instruction of its own, of one byte; disassemblers and assemblers join it with
 * an x87 instruction behind it (FSTCW is WAIT and FNSTCW).
 *
 * <p>What other manuals, and later ones, define besides is switched on by {@link #instructionSet}:
 * EVEX-coded forms, XOP-coded ones and the others that {@link Ia32Extension} lists. One of them
 * gives defined bytes another length: 66 or F2 with 0F 78 and a register operand is VMREAD with a
 * prefix that it does not allow, but EXTRQ or INSERTQ with two more bytes under {@link
 * Ia32Extension#SSE4A}.
 *
 * <p>Not described under any of them: what is for 64-bit mode only; aliases that no manual lists
 * (D6, F6 /1, C0 /6 and some x87 forms); what only older processors had, such as moves to and from
 * test registers (0F 24, 0F 26); and what is newer than the sources named at {@link Ia32Extension}.
 *
 * <p>Two modes stand for the segment's default: {@value #OPERAND32} and {@value #ADDRESS32}. The
 * prefixes 66 and 67 flip them for one instruction.
 */
public final class Ia32 {

  /** The mode that is 1 while operands are 32 bits wide, 0 while they are 16. */
  public static final String OPERAND32 = "operand32";

  /** The mode that is 1 while addresses are 32 bits wide, 0 while they are 16. */
  public static final String ADDRESS32 = "address32";

  /**
   * The mode that is 1 behind a prefix 66 or F2, and 0 before the first prefix; only under {@link
   * Ia32Extension#SSE4A}.
   */
  public static final String FIELD_PREFIX = "field_prefix";

  /** The mode word of a segment of 16-bit code. */
  public static final int MODES_16 = 0;

  /** The mode word of a segment of 32-bit code. */
  public static final int MODES_32 = 3;

  /** The longest legal instruction with its prefixes, in bytes (section 2.3.11). */
  public static final int LONGEST = 15;

  /** The name of the map of the first opcode byte. */
  public static final String ONE_BYTE = "one_byte";

  /** The name of the map behind 0F. */
  public static final String TWO_BYTE = "two_byte";

  static final String THREE_BYTE_38 = "three_byte_38";
  static final String THREE_BYTE_3A = "three_byte_3a";
  static final String VEX2_0F = "vex2_0f";
  static final String VEX3_0F = "vex3_0f";
  static final String VEX3_0F38 = "vex3_0f38";
  static final String VEX3_0F3A = "vex3_0f3a";

  private Ia32() {}

  /**
   * Returns the description with extensions, which do not exclude each other.
   *
   * @param extensions what is described beyond the architecture itself, in any order; none at all
   *     for the architecture alone
   * @return maps, prefixes and the limit of {@value #LONGEST} bytes
   */
  public static InstructionSet instructionSet(Ia32Extension... extensions) {
    Set<Ia32Extension> on = Set.copyOf(Arrays.asList(extensions));
    return InstructionSet.of(table(on), prefixes(on), LONGEST);
  }

  private static LengthTable table(Set<Ia32Extension> on) {
    LengthTable.Builder table = LengthTable.named("ia32").mode(OPERAND32).mode(ADDRESS32);
    if (on.contains(Ia32Extension.SSE4A)) {
      table.mode(FIELD_PREFIX);
    }
    table
        .map(ONE_BYTE, map -> Ia32OneByteMap.write(map, on))
        .map(TWO_BYTE, map -> Ia32TwoByteMap.write(map, on))
        .map(THREE_BYTE_38, map -> Ia32ThreeByteMaps.write38(map, on))
        .map(THREE_BYTE_3A, Ia32ThreeByteMaps::write3a)
        .map(VEX2_0F, map -> Ia32VexMaps.write0f(map, 3))
        .map(VEX3_0F, map -> Ia32VexMaps.write0f(map, 4))
        .map(VEX3_0F38, map -> Ia32VexMaps.write0f38(map, 4, on))
        .map(VEX3_0F3A, map -> Ia32VexMaps.write0f3a(map, 4, on));
    if (on.contains(Ia32Extension.EVEX)) {
      Ia32EvexMaps.add(table);
    }
    if (on.contains(Ia32Extension.XOP)) {
      Ia32XopMaps.add(table);
    }
    return table.build();
  }

  /** Section 2.1.1: lock and repeat, segment overrides, operand-size and address-size override. */
  private static PrefixRules prefixes(Set<Ia32Extension> on) {
    PrefixRules.Builder rules =
        PrefixRules.builder()
            .inert(0xf0, 0xf3)
            .inert(0x26, 0x2e, 0x36, 0x3e, 0x64, 0x65)
            .flips(0x66, OPERAND32)
            .flips(0x67, ADDRESS32);
    return on.contains(Ia32Extension.SSE4A)
        ? rules.sets(0x66, FIELD_PREFIX).sets(0xf2, FIELD_PREFIX).build()
        : rules.inert(0xf2).build();
  }
}

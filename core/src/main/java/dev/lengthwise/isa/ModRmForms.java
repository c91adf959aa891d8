package dev.lengthwise.isa;

import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import java.util.stream.Stream;

/**
 * The ModR/M bytes with which an opcode is defined, as 8-bit patterns that do not overlap.
 *
 * <p>Bits 7-6 are the mod field, 5-3 the reg/opcode field ({@code /digit} in the manual), 2-0 r/m.
 *
 * @param patterns the patterns
 */
record ModRmForms(List<String> patterns) {

  /** Every memory operand. */
  static final ModRmForms MEMORY = exactly("0xxx_xxxx", "10xx_xxxx");

  /** Every register operand. */
  static final ModRmForms REGISTER = exactly("11xx_xxxx");

  /** Every memory operand that has an SIB byte, in 32-bit addressing. */
  static final ModRmForms INDEXED = exactly("0xxx_x100", "10xx_x100");

  private static final String ANY = "xxx";

  ModRmForms {
    patterns = List.copyOf(patterns);
  }

  /** Returns the memory operands with the given values of the reg/opcode field. */
  static ModRmForms memory(int... digits) {
    return of(digits, ANY, "0x", "10");
  }

  /** Returns the register operands with the given values of the reg/opcode field. */
  static ModRmForms register(int... digits) {
    return of(digits, ANY, "11");
  }

  /** Returns the memory operands with an SIB byte and the given values of the reg/opcode field. */
  static ModRmForms indexed(int... digits) {
    return of(digits, "100", "0x", "10");
  }

  /** Returns the memory and register operands with the given values of the reg/opcode field. */
  static ModRmForms either(int... digits) {
    return of(digits, ANY, "xx");
  }

  /** Returns the bytes that match one of the patterns. */
  static ModRmForms exactly(String... patterns) {
    return new ModRmForms(List.of(patterns));
  }

  /** Returns single bytes, for instance the x87 forms without an operand field. */
  static ModRmForms bytes(int... values) {
    return new ModRmForms(Arrays.stream(values).mapToObj(value -> bits(value, 8)).toList());
  }

  /** Returns these forms and further ones, which must differ from these. */
  ModRmForms and(ModRmForms others) {
    return new ModRmForms(Stream.concat(patterns.stream(), others.patterns.stream()).toList());
  }

  private static ModRmForms of(int[] digits, String rm, String... mods) {
    return new ModRmForms(
        Arrays.stream(digits)
            .boxed()
            .flatMap(digit -> Arrays.stream(mods).map(mod -> mod + bits(digit, 3) + rm))
            .toList());
  }

  private static String bits(int value, int width) {
    StringBuilder out = new StringBuilder();
    IntStream.range(0, width).forEach(i -> out.append(value >> (width - 1 - i) & 1));
    return out.toString();
  }
}

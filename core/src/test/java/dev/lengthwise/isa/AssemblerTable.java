package dev.lengthwise.isa;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The instruction table of the assembler nasm (x86/insns.dat of its source package): a line for
 * each form, which holds a mnemonic, operand classes, a code and flags.
 */
final class AssemblerTable {

  private static final Pattern LINE =
      Pattern.compile("([A-Z][A-Z0-9a-z_]*)\\s+(\\S+)\\s+(\\[[^]]*[0-9a-f]{2}[^]]*\\])\\s+(\\S+)");

  private static final List<String> CONDITIONS = List.of("o", "ae", "z", "g");

  private AssemblerTable() {}

  /**
   * One form.
   *
   * @param mnemonic the mnemonic, with "cc" where a condition stands
   * @param operands the operand classes, with their decorations
   * @param code what is assembled
   * @param flags processors and modes
   */
  record Form(String mnemonic, List<String> operands, String code, Set<String> flags) {

    /** Tells whether it can be assembled outside of 64-bit code. */
    boolean isLegacy() {
      return !flags.contains("LONG")
          && !flags.contains("X86_64")
          && operands.stream().noneMatch(operand -> operand.startsWith("reg64"));
    }

    /** Returns the mnemonic, with a register that makes it another instruction. */
    String key() {
      return mnemonic
          + operands.stream()
              .filter(operand -> operand.equals("reg_treg") || operand.equals("reg_cs"))
              .findFirst()
              .filter(operand -> mnemonic.equals("POP") || operand.equals("reg_treg"))
              .map(operand -> " " + operand)
              .orElse("");
    }

    /** Returns lines of source: register and memory operands, with masks, roundings, broadcasts. */
    Set<String> lines(int bits) {
      Set<String> lines = new LinkedHashSet<>();
      boolean jump = code.contains("rel");
      for (String name : names()) {
        for (AssemblerOperand.Kind kind : AssemblerOperand.Kind.values()) {
          List<String> texts = new ArrayList<>();
          for (int i = 0; i < operands.size(); i++) {
            String size = operands.contains("mem") ? immediateSize(operands.get(i)) : "";
            texts.add(size + AssemblerOperand.text(operands.get(i), i, kind, bits, jump));
          }
          lines.add((name + " " + String.join(", ", texts)).strip());
        }
      }
      return lines;
    }

    /** Memory without a size takes that of the immediate. */
    private static String immediateSize(String operand) {
      return switch (operand) {
        case "imm8" -> "byte ";
        case "imm16" -> "word ";
        case "imm32" -> "dword ";
        default -> "";
      };
    }

    private List<String> names() {
      String name = mnemonic.toLowerCase(Locale.ROOT);
      if (flags.contains("LATEVEX")) {
        // These have an EVEX form that came first, so VEX must be asked for.
        return List.of("{vex} " + name);
      }
      return mnemonic.endsWith("cc")
          ? CONDITIONS.stream().map(c -> name.substring(0, name.length() - 2) + c).toList()
          : List.of(name);
    }

    @Override
    public String toString() {
      return mnemonic + " " + String.join(",", operands) + " " + code;
    }
  }

  /** Reads the forms of a table; pseudo-instructions have no code of hexadecimal digits. */
  static List<Form> read(Path file) throws IOException {
    List<Form> forms = new ArrayList<>();
    for (String row : Files.readAllLines(file, StandardCharsets.ISO_8859_1)) {
      Matcher line = LINE.matcher(row.strip());
      if (line.matches()) {
        List<String> operands =
            line.group(2).equals("void") ? List.of() : List.of(line.group(2).split(","));
        forms.add(
            new Form(line.group(1), operands, line.group(3), Set.of(line.group(4).split(","))));
      }
    }
    return forms;
  }
}

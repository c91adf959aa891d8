package dev.lengthwise.isa;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** What nasm's operand classes stand for, as source text. */
final class AssemblerOperand {

  private static final Map<String, String> FIXED =
      Map.ofEntries(
          Map.entry("reg_al", "al"),
          Map.entry("reg_ax", "ax"),
          Map.entry("reg_eax", "eax"),
          Map.entry("reg_cl", "cl"),
          Map.entry("reg_cx", "cx"),
          Map.entry("reg_ecx", "ecx"),
          Map.entry("reg_dx", "dx"),
          Map.entry("reg_edx", "edx"),
          Map.entry("reg_sreg", "fs"),
          Map.entry("reg_es", "es"),
          Map.entry("reg_cs", "cs"),
          Map.entry("reg_ss", "ss"),
          Map.entry("reg_ds", "ds"),
          Map.entry("reg_fs", "fs"),
          Map.entry("reg_gs", "gs"),
          Map.entry("reg_creg", "cr2"),
          Map.entry("reg_dreg", "dr2"),
          Map.entry("reg_treg", "tr6"),
          Map.entry("fpu0", "st0"),
          Map.entry("xmm0", "xmm0"),
          Map.entry("unity", "1"),
          Map.entry("imm:imm", "0x1234:0x5678"),
          Map.entry("imm16:imm", "word 0x1234:0x5678"),
          Map.entry("imm:imm16", "word 0x1234:0x5678"),
          Map.entry("imm32:imm", "dword 0x1234:0x5678"),
          Map.entry("imm:imm32", "dword 0x1234:0x5678"),
          Map.entry("sbyteword", "byte 0x12"),
          Map.entry("sbyteword16", "byte 0x12"),
          Map.entry("sbytedword", "byte 0x12"),
          Map.entry("sbytedword32", "byte 0x12"));

  private static final Map<String, String> SIZES =
      Map.of(
          "8", "byte ", "16", "word ", "32", "dword ", "64", "qword ", "80", "tword ", "128",
          "oword ", "256", "yword ", "512", "zword ");

  private static final Pattern CLASS =
      Pattern.compile(
          "(reg|rm|mem|mmxreg|mmxrm|[xyzk]mmreg|[xyz]mmrm|[xyz]mem|kreg|krm)(\\d*)(na)?");

  private static final List<String> BYTES = List.of("cl", "dl", "bl", "ch", "dh");
  private static final List<String> WORDS = List.of("cx", "dx", "bx", "di", "bp");

  /** Which of its forms an operand takes, and what decorates it. */
  enum Kind {
    /** A register where there is a choice. */
    REGISTER,
    /** The same, with a mask where one is possible. */
    MASKED,
    /** The same, with a rounding where one is possible. */
    ROUNDED,
    /** Memory in the simplest way. */
    MEMORY,
    /** Memory with an index and a small displacement, in 32-bit addresses, with a mask. */
    INDEXED,
    /** Memory at an address. */
    DISPLACED,
    /** Memory in 16-bit addresses, with a displacement. */
    SHORT,
    /** Memory that is broadcast where that is possible. */
    BROADCAST
  }

  private AssemblerOperand() {}

  /**
   * Returns the text of an operand.
   *
   * @param operand nasm's class, with its decorations
   * @param index which operand it is, so that registers differ
   * @param kind which form it takes
   * @param bits the segment's size
   * @param jump whether an immediate is the target of a jump
   */
  static String text(String operand, int index, Kind kind, int bits, boolean jump) {
    String[] parts = operand.replace("*", "").split("\\|");
    List<String> marks = List.of(parts).subList(1, parts.length);
    String fixed = FIXED.get(parts[0]);
    if (fixed != null) {
      return fixed;
    }
    if (parts[0].contains("imm") || parts[0].endsWith("dword")) {
      return immediate(parts[0], marks, jump);
    }
    if (parts[0].equals("mem_offs")) {
      return "[0x1234]";
    }
    if (parts[0].equals("fpureg")) {
      return (marks.contains("to") ? "to " : "") + "st" + (index + 2);
    }
    if (parts[0].equals("bndreg")) {
      return "bnd" + (index + 1);
    }
    Matcher matcher = CLASS.matcher(parts[0]);
    if (!matcher.matches()) {
      return "unknown_" + parts[0];
    }
    boolean memory =
        matcher.group(1).endsWith("mem")
            || matcher.group(1).endsWith("rm") && kind.compareTo(Kind.MEMORY) >= 0;
    String text =
        memory
            ? memory(matcher.group(1), matcher.group(2), marks, kind, bits)
            : register(matcher.group(1), matcher.group(2), index);
    boolean masked = kind == Kind.MASKED || kind == Kind.INDEXED;
    if (masked && marks.contains("mask")) {
      text += "{k1}" + (marks.contains("z") && !memory ? "{z}" : "");
    } else if (!memory && kind == Kind.ROUNDED && (marks.contains("er") || marks.contains("sae"))) {
      text += marks.contains("er") ? ", {rn-sae}" : ", {sae}";
    }
    return text;
  }

  private static String immediate(String name, List<String> marks, boolean jump) {
    String distance = marks.contains("short") ? "short " : marks.contains("near") ? "near " : "";
    String size = name.endsWith("16") ? "word " : name.endsWith("32") ? "dword " : "";
    if (jump) {
      return distance + (marks.contains("short") ? "" : size) + "$";
    }
    return switch (name) {
      case "imm8" -> "0x12";
      case "imm32", "udword", "sdword" -> "0x12345678";
      default -> "0x1234".substring(0, name.equals("imm") ? 4 : 6);
    };
  }

  private static String register(String name, String size, int index) {
    return switch (name) {
      case "mmxreg", "mmxrm" -> "mm" + (index + 1);
      case "xmmreg", "xmmrm" -> "xmm" + (index + 1);
      case "ymmreg", "ymmrm" -> "ymm" + (index + 1);
      case "zmmreg", "zmmrm" -> "zmm" + (index + 1);
      case "kreg", "krm" -> "k" + (index + 1);
      default ->
          switch (size) {
            case "8" -> BYTES.get(index);
            case "16" -> WORDS.get(index);
            default -> "e" + WORDS.get(index);
          };
    };
  }

  private static String memory(String name, String size, List<String> marks, Kind kind, int bits) {
    if (name.endsWith("mem") && name.length() == 4) {
      return "[ebx+" + name.charAt(0) + "mm7*4" + (kind == Kind.MEMORY ? "" : "+0x1234") + "]";
    }
    String far = marks.contains("far") ? "far " : marks.contains("near") ? "near " : "";
    String broadcast =
        marks.stream().filter(mark -> mark.matches("b\\d\\d")).findFirst().orElse("");
    String unit = name.equals("mmxrm") && size.isEmpty() ? "qword " : SIZES.getOrDefault(size, "");
    if (kind == Kind.BROADCAST && !broadcast.isEmpty()) {
      int element = Integer.parseInt(broadcast.substring(1));
      return String.format(Locale.ROOT, "[ebx]{1to%d}", Integer.parseInt(size) / element);
    }
    String address =
        switch (kind) {
          case INDEXED -> "[ebx+esi*4+0x11]";
          case DISPLACED -> bits == 32 ? "[0x12345678]" : "[0x1234]";
          case SHORT -> "[bx+di+0x1234]";
          default -> bits == 32 ? "[esp]" : "[bx+si]";
        };
    return unit + far + address;
  }
}

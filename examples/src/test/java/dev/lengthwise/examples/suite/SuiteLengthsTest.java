package dev.lengthwise.examples.suite;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static dev.lengthwise.examples.suite.SuiteTablesTest.matters;
import static dev.lengthwise.examples.suite.SuiteTablesTest.tables;
import static dev.lengthwise.examples.suite.SuiteTablesTest.word;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.ByteArrayOutputStream;
import java.io.DataOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.TreeMap;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Lengths of instructions against disassemblers, the golden model and the manuals' figures. */
class SuiteLengthsTest {

  @TempDir Path folder;

  /** Every opcode through the disassembler of the Debian package {@code dis51}. */
  @Test
  @CallsTools
  void mcs51_isWhatTheDisassemblerReads() throws IOException {
    StringBuilder hex = new StringBuilder();
    StringBuilder entries = new StringBuilder();
    for (int opcode = 0; opcode < 256; opcode++) {
      // Three bytes each; those that an opcode does not take are NOP, of one byte.
      int address = 3 * opcode;
      entries.append(String.format(Locale.ROOT, " 0x%x", address));
      int sum = 3 + (address >> 8) + (address & 0xff) + opcode;
      hex.append(
          String.format(Locale.ROOT, ":03%04X00%02X0000%02X\n", address, opcode, -sum & 0xff));
    }
    Files.writeString(folder.resolve("all.hex"), hex.append(":00000001FF\n"));
    Tool.named("dis51", "dis51");
    String listing =
        Tool.named("sh", "dash").runIn(folder, 20, "-c", "dis51 -l" + entries + " < all.hex");
    TreeMap<Integer, Integer> read = new TreeMap<>();
    Matcher line =
        Pattern.compile("^ +([0-9A-F]{4}) ([0-9A-F]+)[ \t]", Pattern.MULTILINE).matcher(listing);
    while (line.find()) {
      int address = Integer.parseInt(line.group(1), 16);
      if (address % 3 == 0) {
        read.put(address / 3, line.group(2).length() / 2);
      }
    }
    assertThat(read).hasSize(256);
    TruthTables table = tables("mcs51_length");
    for (int opcode = 0; opcode < 256; opcode++) {
      if (matters(table, opcode, 0)) {
        assertWithMessage("opcode 0x%s", Integer.toHexString(opcode))
            .that(word(table, opcode))
            .isEqualTo(read.get(opcode));
      } else {
        assertThat(opcode).isEqualTo(0xa5);
        assertThat(listing).containsMatch("01EF A5 .*illegal opcode");
      }
    }
  }

  /** Every opcode through the disassembler of the Java platform. */
  @Test
  void virtualMachine_isWhatTheDisassemblerReads() throws IOException {
    TruthTables table = tables("jvm_length");
    ByteArrayOutputStream code = new ByteArrayOutputStream();
    TreeMap<Integer, Integer> expected = new TreeMap<>();
    for (int opcode = 0; opcode < 256; opcode++) {
      if (!matters(table, opcode, 3)) {
        // Reserved ones have names but no code may hold them; others have none.
        assertWithMessage("opcode 0x%s", Integer.toHexString(opcode)).that(opcode).isAtLeast(0xca);
      } else if (word(table, opcode, 3, 1) == 1) {
        assertThat(opcode).isAnyOf(0xaa, 0xab, 0xc4);
        assertThat(matters(table, opcode, 0)).isFalse();
      } else {
        int length = word(table, opcode, 0, 3);
        expected.put(code.size(), length);
        code.write(opcode);
        // The operands are 4, a type of NEWARRAY; what a wrong length leaves over is ICONST_1.
        for (int i = 1; i < length; i++) {
          code.write(4);
        }
      }
    }
    Path file = folder.resolve("Codes.class");
    Files.write(file, classOf(code.toByteArray()));
    Path javap = Path.of(System.getProperty("java.home"), "bin", "javap");
    String listing = Tool.at(javap).run(60, "-c", file);
    TreeMap<Integer, Integer> read = new TreeMap<>();
    int before = -1;
    Matcher line = Pattern.compile("^ +(\\d+): [a-z]", Pattern.MULTILINE).matcher(listing);
    while (line.find()) {
      int at = Integer.parseInt(line.group(1));
      if (before >= 0) {
        read.put(before, at - before);
      }
      before = at;
    }
    read.put(before, code.size() - before);
    assertThat(read).isEqualTo(expected);
  }

  /** Returns a class with one method of this code (The Java Virtual Machine Specification, 4.1). */
  private static byte[] classOf(byte[] code) throws IOException {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    DataOutputStream out = new DataOutputStream(bytes);
    out.writeInt(0xcafebabe);
    out.writeInt(61);
    String[] texts = {"Codes", "java/lang/Object", "run", "()V", "Code"};
    out.writeShort(texts.length + 3);
    for (String text : texts) {
      out.writeByte(1);
      out.writeUTF(text);
    }
    for (int name = 1; name <= 2; name++) {
      out.writeByte(7);
      out.writeShort(name);
    }
    // Public, this class, its super class, no interfaces, no fields, one static method.
    for (int word : new int[] {0x21, 6, 7, 0, 0, 1, 9, 3, 4, 1, 5}) {
      out.writeShort(word);
    }
    out.writeInt(12 + code.length);
    out.writeInt(0x000a_000a);
    out.writeInt(code.length);
    out.write(code);
    out.writeInt(0);
    out.writeShort(0);
    return bytes.toByteArray();
  }

  /** Opcodes with an operand byte take what the golden model says of a register operand. */
  @Test
  void ia32_isTheGoldenModelOfARegisterOperand() {
    TruthTables table = tables("ia32_one_byte");
    GoldenModel golden = GoldenModel.of(Ia32.instructionSet());
    int compared = 0;
    for (int point = 0; point < 1 << 10; point++) {
      if (matters(table, point, 0)) {
        byte[] code = new byte[16];
        code[0] = (byte) point;
        code[1] = (byte) 0xc0;
        int word = word(table, point);
        assertThat(word & 7).isEqualTo(golden.lengthAt(point >> 8, code, 0));
        compared++;
      }
    }
    assertThat(compared).isAtLeast(4 * 200);
  }

  /**
   * The manual's figure of encodings: the low bits of the first parcel; {@code c.nop}, {@code nop}
   * and the least words of the longer formats.
   */
  @Test
  void riscv_isThatOfTheFigure() {
    TruthTables table = tables("riscv_parcels");
    assertThat(word(table, 0x0001)).isEqualTo(1);
    assertThat(word(table, 0x0013)).isEqualTo(2);
    assertThat(word(table, 0x001f)).isEqualTo(3);
    assertThat(word(table, 0x003f)).isEqualTo(4);
    assertThat(word(table, 0x007f)).isEqualTo(5);
    assertThat(word(table, 0x607f)).isEqualTo(11);
    assertThat(matters(table, 0x707f, 0)).isFalse();
  }

  /** Specifiers as the manual prints them: literal, register, displacement, immediate, absolute. */
  @Test
  void vax_isThatOfTheManual() {
    TruthTables table = tables("vax_specifier");
    int quad = 3 << 8;
    assertThat(word(table, quad | 0x3f)).isEqualTo(1);
    assertThat(word(table, quad | 0x5e)).isEqualTo(1);
    assertThat(word(table, quad | 0x41)).isEqualTo(32 | 1);
    assertThat(word(table, quad | 0x8f)).isEqualTo(9);
    assertThat(word(table, quad | 0x8e)).isEqualTo(1);
    assertThat(word(table, quad | 0x9f)).isEqualTo(5);
    assertThat(word(table, quad | 0xa2)).isEqualTo(2);
    assertThat(word(table, quad | 0xdf)).isEqualTo(3);
    assertThat(word(table, quad | 0xef)).isEqualTo(5);
    assertThat(word(table, 4 << 8 | 0x8f)).isEqualTo(17);
    assertThat(matters(table, quad | 0x5f, 0)).isFalse();
    assertThat(matters(table, 5 << 8, 0)).isFalse();
  }
}

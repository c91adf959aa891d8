package dev.lengthwise.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.HexFormat;
import java.util.List;

/** A few IA-32 instructions (32-bit), as files that a user may have. */
final class SmallCode {

  /**
   * Assembled by hand, the encodings from memory (source: the manual that {@code Ia32} names): push
   * ebp; mov ebp, esp; mov eax, [ebp+8]; imul eax, ecx; add eax, 1; mov ax, 1234h; fld1; mov eax,
   * 12345678h; lea eax, [eax+eax*4+7]; pop ebp; ret.
   */
  private static final List<String> INSTRUCTIONS =
      List.of(
          "55",
          "89e5",
          "8b4508",
          "0fafc1",
          "83c001",
          "66b83412",
          "d9e8",
          "b878563412",
          "8d448007",
          "5d",
          "c3");

  private SmallCode() {}

  /** Writes the instructions, so many times, as a raw file. */
  static Path raw(Path folder, String name, int times) throws IOException {
    byte[] code = HexFormat.of().parseHex(String.join("", INSTRUCTIONS).repeat(times));
    return Files.write(folder.resolve(name), code);
  }

  /** Writes a trace of the raw file's instructions in their order. */
  static Path trace(Path folder, String name, int times) throws IOException {
    StringBuilder text = new StringBuilder();
    int address = 0;
    for (int i = 0; i < times; i++) {
      for (String bytes : INSTRUCTIONS) {
        int length = bytes.length() / 2;
        text.append(Integer.toHexString(address)).append(' ').append(length).append('\n');
        address += length;
      }
    }
    return Files.writeString(folder.resolve(name), text);
  }

  /** Returns how many instructions a file of so many times has. */
  static int count(int times) {
    return INSTRUCTIONS.size() * times;
  }
}

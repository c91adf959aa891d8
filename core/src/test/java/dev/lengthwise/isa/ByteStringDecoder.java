package dev.lengthwise.isa;

import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;

/**
 * A decoder library that a test compiles a small program for, and asks for the lengths of strings.
 */
enum ByteStringDecoder {
  /** What GNU objdump is made of: one byte for each string, its length or 0. */
  OPCODES("opcodes.c", 1, "/usr/include/dis-asm.h", "binutils-dev", "-lopcodes -lbfd"),
  /** Zydis: two bytes for each string, its length or 0 and why, as decode.c says. */
  ZYDIS("decode.c", 2, "/usr/include/Zydis/Zydis.h", "libzydis-dev", "-lZydis -lZycore");

  private final String source;
  private final int resultBytes;
  private final Path header;
  private final String debianPackage;
  private final String libraries;

  ByteStringDecoder(
      String source, int resultBytes, String header, String debianPackage, String libraries) {
    this.source = source;
    this.resultBytes = resultBytes;
    this.header = Path.of(header);
    this.debianPackage = debianPackage;
    this.libraries = libraries;
  }

  /** Returns the bytes that the program writes for each string. */
  int resultBytes() {
    return resultBytes;
  }

  /** Decodes strings of 15 bytes as 16- or 32-bit code, by a program that it leaves in a folder. */
  byte[] decode(Path directory, int bits, byte[] strings) throws IOException {
    Tool.installed(header, debianPackage);
    Path program = directory.resolve(source.replace(".c", ""));
    if (!Files.exists(program)) {
      Path copy = directory.resolve(source);
      try (InputStream in = ByteStringDecoder.class.getResourceAsStream(source)) {
        Files.copy(in, copy);
      }
      List<Object> arguments =
          new ArrayList<>(List.of("-O2", "-Wall", "-Werror", "-o", program, copy));
      arguments.addAll(List.of(libraries.split(" ", -1)));
      Tool.named("gcc", "gcc").run(60, arguments.toArray());
    }
    Path input = directory.resolve("strings");
    Path output = directory.resolve("results");
    Files.write(input, strings);
    Tool.at(program).run(120, bits, input, output);
    return Files.readAllBytes(output);
  }
}

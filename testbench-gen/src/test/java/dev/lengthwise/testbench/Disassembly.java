package dev.lengthwise.testbench;

import dev.lengthwise.testbench.vector.ArrayVectors;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** The code of a section as GNU objdump (Debian package binutils) lists it. */
final class Disassembly {

  private static final Pattern LINE =
      Pattern.compile(" *([0-9a-f]+):\\t((?:[0-9a-f]{2} )+) *(?:\\t(.*))?");

  private final byte[] bytes;
  private final int[] starts;

  private Disassembly(byte[] bytes, int[] starts) {
    this.bytes = bytes;
    this.starts = starts;
  }

  /** Returns the bytes, which are not to be changed. */
  byte[] bytes() {
    return bytes;
  }

  /** Returns where instructions start, ascending; not to be changed. */
  int[] starts() {
    return starts;
  }

  /** Disassembles section .text of a file. */
  static Disassembly of(Path file, String machine) throws IOException, InterruptedException {
    if (!Files.isReadable(file)) {
      throw new AssertionError("test: install libc6-i386-cross, found no " + file);
    }
    Path listing = Files.createTempFile("lengthwise", ".txt");
    try {
      Process process =
          new ProcessBuilder(
                  "objdump", "-d", "-z", "--wide", "-m", machine, "-j", ".text", file.toString())
              .redirectOutput(listing.toFile())
              .redirectError(ProcessBuilder.Redirect.INHERIT)
              .start();
      if (process.waitFor() != 0) {
        throw new AssertionError("objdump (Debian package binutils): must pass on " + file);
      }
      return parse(Files.readAllLines(listing));
    } finally {
      Files.delete(listing);
    }
  }

  private static Disassembly parse(List<String> lines) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    List<Integer> starts = new ArrayList<>();
    long origin = -1;
    for (String text : lines) {
      Matcher line = LINE.matcher(text);
      if (line.matches()) {
        long address = Long.parseLong(line.group(1), 16);
        origin = origin < 0 ? address : origin;
        if (address - origin != bytes.size()) {
          throw new AssertionError("listing: lines without gaps are expected, found " + text);
        }
        byte[] code = HexFormat.ofDelimiter(" ").parseHex(line.group(2).strip());
        starts.add(bytes.size());
        // The disassembler prints WAIT together with an x87 instruction behind it; in the manual
        // it is an instruction of its own.
        if (code[0] == (byte) 0x9b && code.length > 1) {
          starts.add(bytes.size() + 1);
        }
        bytes.writeBytes(code);
      }
    }
    return new Disassembly(
        bytes.toByteArray(), starts.stream().mapToInt(Integer::intValue).toArray());
  }

  ArrayVectors.Code code(int modes) {
    return ArrayVectors.Code.of(bytes, starts, modes);
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.file.ShownText;
import dev.lengthwise.stream.CodeImage;
import java.io.IOException;
import java.nio.file.Path;
import java.util.Set;

/** Reads files that should hold IA-32 code. */
final class Ia32Code {

  /** The ELF machine number of IA-32, and that of its use in small devices (from memory). */
  private static final Set<Integer> MACHINES = Set.of(3, 6);

  private Ia32Code() {}

  /**
   * Reads a file.
   *
   * @param raw whether all its bytes are code, whatever the file is
   * @throws IOException if it cannot be read, or is a program for another machine
   */
  static CodeImage read(Path file, boolean raw) throws IOException {
    if (raw) {
      return CodeImage.readRaw(file, 0);
    }
    CodeImage image = CodeImage.read(file);
    if (image.machine().isPresent() && !MACHINES.contains(image.machine().getAsInt())) {
      throw new IOException(
          ShownText.of(file.toString())
              + ": an ELF file for machine 3, IA-32, is expected (--raw takes all bytes of a file"
              + " as code), found machine "
              + image.machine().getAsInt()
              + (image.machine().getAsInt() == 62 ? ", the 64-bit architecture" : ""));
    }
    return image;
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.file.ShownText;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.stream.CodeImage;
import java.io.IOException;
import java.nio.file.Path;

/** Reads files that should hold code of an instruction set. */
final class SetCode {

  private SetCode() {}

  /** Tells whether the code that examples bring or look for is code of the set. */
  static boolean isUsual(NamedSet set) {
    return set.modes() == Ia32.MODES_32 && set.instructionSet().equals(Ia32.instructionSet());
  }

  /**
   * Reads a file.
   *
   * @param raw whether all its bytes are code, whatever the file is
   * @throws IOException if it cannot be read, or is a program for another machine
   */
  static CodeImage read(NamedSet set, Path file, boolean raw) throws IOException {
    if (raw) {
      return CodeImage.readRaw(file, 0);
    }
    CodeImage image = CodeImage.read(file);
    if (image.machine().isPresent()
        && !set.machines().isEmpty()
        && !set.machines().contains(image.machine().getAsInt())) {
      throw new IOException(
          ShownText.of(file.toString())
              + ": an ELF file for machine "
              + set.machines().get(0)
              + ", "
              + set.title()
              + ", is expected (--raw takes all bytes of a file as code), found machine "
              + image.machine().getAsInt()
              + (image.machine().getAsInt() == 62 ? ", the 64-bit architecture" : ""));
    }
    return image;
  }
}

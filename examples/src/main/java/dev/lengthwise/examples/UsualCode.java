package dev.lengthwise.examples;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/** Files with IA-32 code that many machines have, for examples that were given none. */
final class UsualCode {

  /** IA-32 libraries where Debian's packages put them. */
  static final List<Path> FILES =
      List.of(
          Path.of("/usr/i686-linux-gnu/lib/libc.so.6"), Path.of("/lib/i386-linux-gnu/libc.so.6"));

  private UsualCode() {}

  /** Returns the first of the files that there is. */
  static Optional<Path> first(List<Path> files) {
    return files.stream().filter(Files::isReadable).findFirst();
  }
}

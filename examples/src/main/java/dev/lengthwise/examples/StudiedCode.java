package dev.lengthwise.examples;

import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.study.workload.StudyStream;
import java.io.IOException;
import java.nio.file.Path;
import picocli.CommandLine.Option;

/** Code that a user names: options that are given once for each stream. */
final class StudiedCode {

  @Option(
      names = "--image",
      required = true,
      paramLabel = "FILE",
      description =
          "ELF or raw file with code; two recorded traces if not given. Each further --image, with"
              + " its --trace, is a stream that no search looks at")
  private Path image;

  @Option(
      names = "--raw",
      description = "take all bytes of the image as code, whatever the file is")
  private boolean raw;

  @Option(
      names = "--trace",
      paramLabel = "FILE",
      description = "trace of the image's code; without one, the image is run once from end to end")
  private Path trace; // null if not given, as groups of options cannot hold an Optional

  /**
   * Reads the stream.
   *
   * @param modes the modes before each instruction
   */
  StudyStream stream(NamedSet set, int modes) throws IOException {
    CodeImage code = SetCode.read(set, image, raw);
    return trace == null
        ? StudyStream.ofImage(image.getFileName().toString(), set.instructionSet(), modes, code)
        : StudyStream.ofTrace(
            trace.getFileName().toString(), set.instructionSet(), modes, code, trace);
  }
}

package dev.lengthwise.examples;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Where an example writes; looked at before the work, so that none is done in vain. */
final class OutFolder {

  @Option(names = "--out", paramLabel = "DIR", description = "where to write (${DEFAULT-VALUE})")
  private Path folder;

  @Spec(Spec.Target.MIXEE)
  private CommandSpec spec;

  /** Takes the folder of an example that none is given to. */
  OutFolder(String example) {
    folder = Path.of("examples", "target", example);
  }

  /**
   * Returns the folder, which need not be there.
   *
   * @throws ParameterException if nothing can be written to it, or to what it would be made in
   */
  Path writable() {
    Path there = folder.toAbsolutePath().normalize();
    while (there.getParent() != null && !Files.exists(there)) {
      there = there.getParent();
    }
    if (!Files.isDirectory(there)) {
      throw wrong("a folder is expected, found a file %s", there);
    }
    try {
      Files.delete(Files.createTempFile(there, ".lengthwise", ".probe"));
    } catch (IOException e) {
      throw wrong("a folder that can be written to is expected, found %s", there);
    }
    return folder;
  }

  private ParameterException wrong(String rule, Path found) {
    return new ParameterException(
        spec.commandLine(), "--out: " + String.format(Locale.ROOT, rule, found));
  }
}

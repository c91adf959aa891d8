package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.OutputFile;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/**
 * Emitted text that is kept beside the tests, under {@code
 * src/test/resources/golden/<TestClass>/<method>/}.
 *
 * <p>With {@code -Dgolden.write=true} it is written instead of compared; review the difference
 * before it is committed.
 */
final class GoldenFiles {

  private static final Path ROOT = Path.of("src", "test", "resources", "golden");
  private static final boolean WRITE = Boolean.getBoolean("golden.write");

  private final Path folder;

  GoldenFiles(Class<?> test, String method) {
    this.folder = ROOT.resolve(test.getSimpleName()).resolve(method);
  }

  Path folder() {
    return folder;
  }

  /** Fails if a file is missing, has another text, or is not emitted any more. */
  void check(List<OutputFile> emitted) throws IOException {
    if (WRITE) {
      write(emitted);
    }
    Map<String, String> kept = read();
    assertWithMessage("golden files in %s; -Dgolden.write=true writes them", folder)
        .that(kept.keySet())
        .isEqualTo(emitted.stream().map(OutputFile::path).collect(Collectors.toSet()));
    for (OutputFile file : emitted) {
      assertWithMessage("golden file %s; -Dgolden.write=true writes it", file.path())
          .that(file.text())
          .isEqualTo(kept.get(file.path()));
    }
  }

  private void write(List<OutputFile> emitted) throws IOException {
    if (Files.exists(folder)) {
      try (Stream<Path> paths = Files.walk(folder)) {
        for (Path path : paths.sorted(Comparator.reverseOrder()).toList()) {
          Files.delete(path);
        }
      }
    }
    for (OutputFile file : emitted) {
      Path path = folder.resolve(file.path());
      Files.createDirectories(path.getParent());
      Files.writeString(path, file.text(), StandardCharsets.US_ASCII);
    }
  }

  private Map<String, String> read() throws IOException {
    Map<String, String> kept = new TreeMap<>();
    if (Files.exists(folder)) {
      try (Stream<Path> paths = Files.walk(folder)) {
        for (Path path : paths.filter(Files::isRegularFile).toList()) {
          kept.put(
              folder.relativize(path).toString().replace('\\', '/'),
              Files.readString(path, StandardCharsets.US_ASCII));
        }
      }
    }
    return kept;
  }

  /** Returns the methods of a test class for which golden files are kept. */
  static Set<String> methods(Class<?> test) throws IOException {
    return names(ROOT.resolve(test.getSimpleName()));
  }

  /** Returns the test classes for which golden files are kept. */
  static Set<String> classes() throws IOException {
    return names(ROOT);
  }

  private static Set<String> names(Path folder) throws IOException {
    try (Stream<Path> paths = Files.list(folder)) {
      return paths
          .map(path -> path.getFileName().toString())
          .collect(Collectors.toCollection(TreeSet::new));
    }
  }
}

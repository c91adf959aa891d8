package dev.lengthwise.realize;

import dev.lengthwise.circuit.CircuitOutput;
import dev.lengthwise.circuit.OutputFile;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.stream.Stream;

/**
 * A folder that designs are written to.
 *
 * <p>All files are printed and written beside the folder first and moved into place at the end, so
 * a run that fails leaves the old files as they were. Files that the run does not write are not
 * touched.
 */
public final class OutputTree {

  private final Path folder;
  private final List<DesignOutput> outputs;

  private OutputTree(Path folder, List<DesignOutput> outputs) {
    this.folder = folder;
    this.outputs = List.copyOf(outputs);
  }

  /**
   * Returns a tree without back ends.
   *
   * @param folder where to write; made if it is missing
   * @return the tree
   */
  public static OutputTree at(Path folder) {
    return new OutputTree(Objects.requireNonNull(folder, "folder"), List.of());
  }

  /**
   * Returns the tree with one more back end that prints circuits.
   *
   * @param output the back end
   * @return a new tree
   */
  @SuppressWarnings("overloads") // back ends are classes, so the two methods are told apart
  public OutputTree add(CircuitOutput output) {
    Objects.requireNonNull(output, "output");
    DesignOutput ofCircuit = design -> output.files(design.circuit());
    return add(ofCircuit);
  }

  /**
   * Returns the tree with one more back end.
   *
   * @param output the back end
   * @return a new tree
   */
  @SuppressWarnings("overloads") // as above
  public OutputTree add(DesignOutput output) {
    List<DesignOutput> more = new ArrayList<>(outputs);
    more.add(Objects.requireNonNull(output, "output"));
    return new OutputTree(folder, more);
  }

  /**
   * Writes a design through every back end.
   *
   * @param design the design
   * @return the files written, relative to the folder, in the order of the back ends
   * @throws IllegalStateException if two back ends write one path
   * @throws UncheckedIOException if a file cannot be written; the old files are left as they were
   */
  public List<Path> write(Design design) {
    Map<String, String> texts = new LinkedHashMap<>();
    for (DesignOutput output : outputs) {
      for (OutputFile file : output.files(design)) {
        if (texts.putIfAbsent(file.path(), file.text()) != null) {
          throw new IllegalStateException(
              "output tree: two outputs must not write one file, found " + file.path());
        }
      }
    }
    try {
      return writeAll(texts);
    } catch (IOException e) {
      throw new UncheckedIOException("output tree " + folder + ": cannot write, found " + e, e);
    }
  }

  private List<Path> writeAll(Map<String, String> texts) throws IOException {
    Path target = folder.toAbsolutePath().normalize();
    Files.createDirectories(target);
    Path parent = Objects.requireNonNullElse(target.getParent(), target);
    Path staging = Files.createTempDirectory(parent, ".lengthwise");
    try {
      for (Map.Entry<String, String> entry : texts.entrySet()) {
        Path file = staging.resolve(entry.getKey());
        Files.createDirectories(file.getParent());
        Files.writeString(file, entry.getValue(), StandardCharsets.US_ASCII);
      }
      List<Path> written = new ArrayList<>();
      for (String path : texts.keySet()) {
        Path file = target.resolve(path);
        Files.createDirectories(file.getParent());
        Files.move(staging.resolve(path), file, StandardCopyOption.REPLACE_EXISTING);
        written.add(Path.of(path));
      }
      return written;
    } finally {
      deleteTree(staging);
    }
  }

  private static void deleteTree(Path root) throws IOException {
    try (Stream<Path> paths = Files.walk(root)) {
      for (Path path : paths.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(path);
      }
    }
  }
}

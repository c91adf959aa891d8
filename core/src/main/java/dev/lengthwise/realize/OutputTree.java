package dev.lengthwise.realize;

import dev.lengthwise.circuit.CircuitOutput;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.WholeFiles;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;

/**
 * A folder that designs are written to.
 *
 * <p>All files are printed first and written by {@link WholeFiles}, so a run that fails leaves the
 * old files as they were. Files that the run does not write are not touched.
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
   * Returns the tree with one more file, such as a report, that is written beside the design.
   *
   * @param file the file
   * @return a new tree
   */
  public OutputTree add(OutputFile file) {
    Objects.requireNonNull(file, "file");
    DesignOutput ready = design -> List.of(file);
    return add(ready);
  }

  /**
   * Writes a design through every back end.
   *
   * @param design the design
   * @return the files written, relative to the folder, in the order of the back ends
   * @throws IllegalStateException if two back ends write one path
   * @throws UncheckedIOException if a file cannot be written; all files are as they were
   */
  public List<Path> write(Design design) {
    Objects.requireNonNull(design, "design");
    Map<String, String> texts = new LinkedHashMap<>();
    for (DesignOutput output : outputs) {
      for (OutputFile file : output.files(design)) {
        if (texts.putIfAbsent(file.path(), file.text()) != null) {
          throw new IllegalStateException(
              "output tree: two outputs must not write one file, found " + file.path());
        }
      }
    }
    Map<Path, WholeFiles.Content> contents = new LinkedHashMap<>();
    texts.forEach(
        (path, text) ->
            contents.put(folder.resolve(path), WholeFiles.text(text, StandardCharsets.US_ASCII)));
    try {
      WholeFiles.write(contents);
    } catch (IOException e) {
      throw new UncheckedIOException(e.getMessage(), e);
    }
    return texts.keySet().stream().map(Path::of).toList();
  }
}

package dev.lengthwise.report;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.file.WholeFiles;
import java.io.IOException;
import java.nio.file.Path;

/** A table or a page: one file, made of what it was given. */
public interface Report {

  /**
   * Prints the report. An {@link dev.lengthwise.realize.OutputTree} takes it beside what else it
   * writes.
   *
   * @return the file
   */
  OutputFile file();

  /**
   * Writes the report alone.
   *
   * @param folder where to; made if it is missing
   * @return the file written
   * @throws IOException if it cannot be written; an old one is left as it was
   */
  default Path write(Path folder) throws IOException {
    OutputFile file = file();
    Path path = folder.resolve(file.path());
    WholeFiles.write(path, file.text());
    return path;
  }
}

package dev.lengthwise.testbench;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/** Reads the list of files, in compile order, that an emitter writes beside them. */
final class FileList {

  private FileList() {}

  static List<String> verilog(Path tree, String design) throws IOException {
    Path folder = tree.resolve("verilog");
    return Files.readAllLines(folder.resolve(design + ".f")).stream()
        .filter(line -> !line.isBlank() && !line.startsWith("//"))
        .map(line -> folder.resolve(line.strip()).toString())
        .toList();
  }
}

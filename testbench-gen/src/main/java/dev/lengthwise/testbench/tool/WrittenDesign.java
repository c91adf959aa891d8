package dev.lengthwise.testbench.tool;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;

/**
 * Where a written design's files are.
 *
 * @param tree the folder, absolute
 * @param name the design's name
 */
public record WrittenDesign(Path tree, String name) {

  /**
   * Names the files of a design that was written.
   *
   * @param tree the folder written to
   * @param name the design
   * @return the files
   */
  public static WrittenDesign of(Path tree, String name) {
    return new WrittenDesign(tree.toAbsolutePath(), name);
  }

  /**
   * Returns the top of a bench.
   *
   * @return its name
   */
  public String benchTop() {
    return name + "_tb";
  }

  /**
   * Returns the Verilog files in the order of their list.
   *
   * @return paths
   */
  public List<String> verilog() {
    return listed("verilog");
  }

  /**
   * Returns the VHDL files in the order of their list.
   *
   * @return paths
   */
  public List<String> vhdl() {
    return listed("vhdl");
  }

  /**
   * Returns the Verilog bench.
   *
   * @return a path
   */
  public String verilogBench() {
    return written("bench/verilog/" + name + "_tb.v").toString();
  }

  /**
   * Returns the VHDL bench.
   *
   * @return a path
   */
  public String vhdlBench() {
    return written("bench/vhdl/" + name + "_tb.vhd").toString();
  }

  /** Returns the file of vectors; a bench that does not find it says so and fails. */
  public String vectors() {
    return tree.resolve("bench/vectors/" + name + ".hex").toString();
  }

  private List<String> listed(String folder) {
    Path list = written(folder + '/' + name + ".f");
    try {
      return Files.readAllLines(list).stream()
          .filter(line -> !line.isBlank())
          .map(line -> list.resolveSibling(line.strip()).toString())
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException("design " + name + ": its list of files cannot be read", e);
    }
  }

  private Path written(String path) {
    Path file = tree.resolve(path);
    if (!Files.isRegularFile(file)) {
      throw new IllegalStateException(
          "design " + name + ": it must be written before it is run, found no file " + file);
    }
    return file;
  }
}

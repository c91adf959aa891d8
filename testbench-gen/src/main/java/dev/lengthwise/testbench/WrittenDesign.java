package dev.lengthwise.testbench;

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
record WrittenDesign(Path tree, String name) {

  static WrittenDesign of(Path tree, String name) {
    return new WrittenDesign(tree.toAbsolutePath(), name);
  }

  /** Returns the top of a bench. */
  String benchTop() {
    return name + "_tb";
  }

  /** Returns the Verilog files in the order of their list. */
  List<String> verilog() {
    return listed(tree.resolve("verilog"));
  }

  /** Returns the VHDL files in the order of their list. */
  List<String> vhdl() {
    return listed(tree.resolve("vhdl"));
  }

  String verilogBench() {
    return tree.resolve("bench/verilog/" + name + "_tb.v").toString();
  }

  String vhdlBench() {
    return tree.resolve("bench/vhdl/" + name + "_tb.vhd").toString();
  }

  String vectors() {
    return tree.resolve("bench/vectors/" + name + ".hex").toString();
  }

  private List<String> listed(Path folder) {
    try {
      return Files.readAllLines(folder.resolve(name + ".f")).stream()
          .filter(line -> !line.isBlank())
          .map(line -> folder.resolve(line.strip()).toString())
          .toList();
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}

package dev.lengthwise.vhdl;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitOutput;
import dev.lengthwise.circuit.OutputFile;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Collectors;

/**
 * Prints circuits as VHDL for synthesis and simulation, accepted by IEEE 1076-1993 and 1076-2008.
 *
 * <p>Each block becomes the file {@code vhdl/<block>.vhd}; {@code vhdl/<top>.f} lists them in
 * compile order, one a line, relative to its own directory.
 */
public final class Vhdl implements CircuitOutput {

  /** Makes a printer. */
  public Vhdl() {}

  @Override
  public List<OutputFile> files(Circuit top) {
    List<OutputFile> files = new ArrayList<>();
    for (Circuit block : top.blocks()) {
      files.add(new OutputFile("vhdl/" + block.name() + ".vhd", Block.text(block)));
    }
    String list = top.blocks().stream().map(b -> b.name() + ".vhd\n").collect(Collectors.joining());
    files.add(new OutputFile("vhdl/" + top.name() + ".f", list));
    return files;
  }
}

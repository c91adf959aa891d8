package dev.lengthwise.testbench.flow;

import dev.lengthwise.circuit.translated.GhdlVerilog;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * What a trial wrote in VHDL, which GHDL (Debian package {@code ghdl}) translates. It drops
 * attributes, so that blocks to keep are named here.
 *
 * @param program GHDL
 */
record VhdlInput(String program) implements FlowInput {

  static final String GHDL = "ghdl";

  private static final String EDITION = "--std=93";
  private static final String TRANSLATED = "translated.v";

  @Override
  public List<String> bring(WrittenDesign written, Path folder) throws IOException {
    List<String> analyse = new ArrayList<>(List.of(program, "-a", EDITION));
    analyse.addAll(written.vhdl());
    translate(written, folder, analyse);
    // A netlist may be longer than what is kept of a program's output, so it goes to a file.
    translate(
        written,
        folder,
        List.of(
            "sh",
            "-c",
            "exec \"$0\" \"$@\" > " + TRANSLATED,
            program,
            "--synth",
            EDITION,
            "--out=verilog",
            written.name()));
    Path netlist = folder.resolve(TRANSLATED);
    Files.writeString(netlist, GhdlVerilog.mended(Files.readString(netlist)));
    return List.of(TRANSLATED);
  }

  private static void translate(WrittenDesign written, Path folder, List<String> command) {
    ToolRun run = ToolRun.of(GHDL, folder, OpenFlow.MOST_SECONDS, command);
    OpenFlow.check(GHDL, "translate", written.name(), run);
  }

  @Override
  public List<String> kept(String top) {
    return List.of(top + "_lut_*");
  }

  @Override
  public Optional<String> translator() {
    return Optional.of(program);
  }
}

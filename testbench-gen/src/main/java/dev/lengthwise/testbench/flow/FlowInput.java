package dev.lengthwise.testbench.flow;

import dev.lengthwise.testbench.tool.WrittenDesign;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** The text of a trial that a flow reads, brought into the folder of its run as Verilog. */
interface FlowInput {

  /** What a trial wrote in Verilog. */
  FlowInput VERILOG =
      new FlowInput() {

        @Override
        public List<String> bring(WrittenDesign written, Path folder) throws IOException {
          List<String> files = new ArrayList<>();
          for (String text : written.verilog()) {
            String file = "source" + files.size() + ".v";
            Files.copy(Path.of(text), folder.resolve(file));
            files.add(file);
          }
          return List.copyOf(files);
        }

        @Override
        public List<String> kept(String top) {
          return List.of();
        }

        @Override
        public Optional<String> translator() {
          return Optional.empty();
        }
      };

  /** Brings the text, and returns the names of its files there, in the order to read them in. */
  List<String> bring(WrittenDesign written, Path folder) throws IOException;

  /** Returns patterns of the blocks that the text asks to keep, where it does not say so itself. */
  List<String> kept(String top);

  /** Returns the program that translates the text, if one does. */
  Optional<String> translator();
}

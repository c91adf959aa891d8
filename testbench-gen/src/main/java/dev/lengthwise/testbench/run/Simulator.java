package dev.lengthwise.testbench.run;

import java.io.UncheckedIOException;
import java.nio.file.Path;

/** Runs the bench of a written design in an installed simulator. */
public interface Simulator {

  /**
   * Returns the simulator's name, with the edition of the language if it knows several.
   *
   * @return a few words
   */
  String name();

  /**
   * Compiles the emitted text of a tree with its bench, outside the tree, and runs it.
   *
   * @param tree the folder that the design was written to, RTL and benches
   * @param design the design's name
   * @return what the simulator said; not passed if it accepts the text not even for compiling
   * @throws IllegalStateException if a program is not installed, the message naming its Debian
   *     package, or takes over 600 seconds
   * @throws UncheckedIOException if the tree cannot be read
   */
  SimulationResult run(Path tree, String design);
}

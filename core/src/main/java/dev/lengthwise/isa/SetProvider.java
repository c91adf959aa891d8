package dev.lengthwise.isa;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import java.util.List;

/**
 * Gives an instruction set a name by which every example takes it.
 *
 * <p>A provider is a public class with a public constructor without parameters, found by {@link
 * java.util.ServiceLoader}: it is named in the file {@code
 * META-INF/services/dev.lengthwise.isa.SetProvider} of its own jar, and, if the jar is a module, in
 * its {@code provides}. Only the name and the description are its own to say; {@link NamedSet#of}
 * finds it.
 */
public interface SetProvider {

  /**
   * Returns the name that callers say.
   *
   * @return lower case letters, digits and underscores, starting with a letter
   */
  String name();

  /**
   * Returns the description.
   *
   * @return the same one at every call
   */
  InstructionSet instructionSet();

  /**
   * Returns the name in sentences.
   *
   * @return {@link #name()} if not said otherwise
   */
  default String title() {
    return name();
  }

  /**
   * Returns the modes before each instruction of usual code; code in other modes takes a provider
   * of its own.
   *
   * @return a mode word, 0 if not said otherwise
   */
  default int modes() {
    return 0;
  }

  /**
   * Returns the numbers that an ELF file of such code may name as its machine.
   *
   * @return the usual one first; empty if any will do
   */
  default List<Integer> machines() {
    return List.of();
  }

  /**
   * Returns the lane that examples of one lane build.
   *
   * @return a lane of this set, one that handles all it can if not said otherwise
   */
  default Predecoder lane() {
    return Predecoder.builder(instructionSet()).build();
  }

  /**
   * Returns the lanes that a study tries beside each other.
   *
   * @param undefined what they say of undefined opcodes
   * @return lanes of this set with names of their own, the leanest first and never empty; if not
   *     said otherwise, from the opcode's length alone to everything with folded prefixes
   */
  default List<Predecoder> lanes(UndefinedRows undefined) {
    return LaneLadder.of(instructionSet(), undefined);
  }
}

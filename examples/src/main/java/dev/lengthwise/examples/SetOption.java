package dev.lengthwise.examples;

import dev.lengthwise.isa.NamedSet;
import java.util.Iterator;
import java.util.Locale;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** The instruction set that an example works on, by the name that its provider says. */
final class SetOption {

  /** The names that there are, looked up when help is shown. */
  static final class Names implements Iterable<String> {

    @Override
    public Iterator<String> iterator() {
      return NamedSet.names().iterator();
    }
  }

  @Option(
      names = "--set",
      paramLabel = "NAME",
      completionCandidates = Names.class,
      description = {
        "the instruction set (${DEFAULT-VALUE}): one of ${COMPLETION-CANDIDATES},",
        "or of your own, with its SetProvider on the class path"
      })
  private String name;

  @Spec(Spec.Target.MIXEE)
  private CommandSpec spec;

  /** Takes the name of the set of an example that none is given to. */
  SetOption(String name) {
    this.name = name;
  }

  /**
   * Returns the set.
   *
   * @throws ParameterException if there is none of the name
   * @throws IllegalStateException if a provider cannot be used
   */
  NamedSet set() {
    return find(name, spec);
  }

  /** Returns the set of a name that was given to a command. */
  static NamedSet find(String name, CommandSpec command) {
    try {
      return NamedSet.of(name.toLowerCase(Locale.ROOT));
    } catch (IllegalArgumentException e) {
      throw new ParameterException(
          command.commandLine(),
          "--set: one of " + NamedSet.names() + " is expected, found " + name,
          e);
    }
  }

  /**
   * Says that an option is for IA-32 code only.
   *
   * @throws ParameterException if it was given and the set is another
   */
  void requireIa32(String option, boolean given, NamedSet set) {
    if (given && !set.name().equals("ia32")) {
      throw new ParameterException(
          spec.commandLine(), option + ": must be given with the set ia32, found " + set.name());
    }
  }
}

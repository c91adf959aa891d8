package dev.lengthwise.examples;

import picocli.CommandLine;
import picocli.CommandLine.Command;

/** Runs an example by its name; {@code quickstart} if none is given. */
@Command(
    name = "examples",
    mixinStandardHelpOptions = true,
    description = "Runs an example of Lengthwise; quickstart if no name is given.",
    subcommands = {
      Quickstart.class,
      Ia32Example.class,
      MappingExample.class,
      LanesExample.class,
      FetchUnitExample.class,
      Ia32StudyExample.class,
      SpeedExample.class
    })
public final class Examples implements Runnable {

  private Examples() {}

  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        new CommandLine(this), "examples: the name of an example is expected, found none");
  }

  /**
   * Runs an example and ends the program with 0, 1 if a check failed, or 2 if it was called
   * wrongly.
   *
   * @param arguments the example's name and its options
   */
  public static void main(String[] arguments) {
    System.exit(run(arguments));
  }

  /** Runs an example and returns the exit status. */
  static int run(String... arguments) {
    String[] named = arguments.length == 0 ? new String[] {"quickstart"} : arguments;
    CommandLine line = new CommandLine(new Examples());
    line.setExecutionExceptionHandler(
        (failure, command, parsed) -> {
          command.getErr().println(failure.getMessage());
          return failure instanceof IllegalArgumentException ? 2 : 1;
        });
    return line.execute(named);
  }
}

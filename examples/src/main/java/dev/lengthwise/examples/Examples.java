package dev.lengthwise.examples;

import dev.lengthwise.file.FileFault;
import dev.lengthwise.file.ShownText;
import java.io.UncheckedIOException;
import java.nio.file.FileSystemException;
import java.util.Objects;
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
    // Names of files and what is read from them may hold anything.
    line.setOut(HarmlessWriter.to(System.out));
    line.setErr(HarmlessWriter.to(System.err));
    line.setColorScheme(CommandLine.Help.defaultColorScheme(CommandLine.Help.Ansi.OFF));
    line.setExecutionExceptionHandler(
        (failure, command, parsed) -> {
          command.getErr().println(message(failure));
          return failure instanceof IllegalArgumentException ? 2 : 1;
        });
    return line.execute(named);
  }

  /** Returns a message with a subject, also of what the system says without one. */
  private static String message(Exception failure) {
    Throwable cause = failure instanceof UncheckedIOException ? failure.getCause() : failure;
    String name =
        cause instanceof FileSystemException system && system.getFile() != null
            ? ShownText.of(system.getFile())
            : "examples";
    return cause instanceof FileSystemException system
        ? FileFault.reading(name, system).getMessage()
        : Objects.requireNonNullElse(failure.getMessage(), failure.toString());
  }
}

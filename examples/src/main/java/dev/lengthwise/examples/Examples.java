package dev.lengthwise.examples;

import dev.lengthwise.examples.terminal.HarmlessWriter;
import java.nio.file.NoSuchFileException;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import picocli.CommandLine.ScopeType;

/** Runs an example by its name; {@code quickstart} if none is given. */
@Command(
    name = "examples",
    description = "Runs an example of Lengthwise; quickstart if no name is given.",
    subcommands = {
      Quickstart.class,
      Ia32Example.class,
      MappingExample.class,
      LanesExample.class,
      FetchUnitExample.class,
      Ia32StudyExample.class,
      TimingExample.class,
      SpeedExample.class
    })
public final class Examples implements Runnable {

  /** A second is what the end of cancelled work may take; a busy machine gets more. */
  private static final int MOST_SECONDS_TO_END = 5;

  @Option(
      names = {"-h", "--help"},
      usageHelp = true,
      scope = ScopeType.INHERIT,
      description = "show this help and end")
  @SuppressWarnings("UnusedVariable") // the parser reads it
  private boolean help;

  private Examples() {}

  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        new CommandLine(this), "examples: the name of an example is expected, found none");
  }

  /**
   * Runs an example and ends the program with 0, 1 if a check failed, or 2 if it was called
   * wrongly. A signal to end cancels the example first, so that what it writes and what it has
   * started is not left half-way; the status is then 128 and the signal's number.
   *
   * @param arguments the example's name and its options
   */
  public static void main(String[] arguments) {
    Thread example = Thread.currentThread();
    CountDownLatch ended = new CountDownLatch(1);
    Runtime.getRuntime()
        .addShutdownHook(
            new Thread(
                () -> {
                  if (ended.getCount() > 0) {
                    example.interrupt();
                    await(ended);
                  }
                }));
    int status = 1;
    try {
      status = run(arguments);
    } finally {
      ended.countDown();
    }
    System.exit(status);
  }

  private static void await(CountDownLatch ended) {
    try {
      ended.await(MOST_SECONDS_TO_END, TimeUnit.SECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /** Runs an example and returns the exit status. */
  static int run(String... arguments) {
    String[] named = arguments.length == 0 ? new String[] {"quickstart"} : arguments;
    return commands().execute(named);
  }

  /** Returns the examples and their options. */
  static CommandLine commands() {
    CommandLine line = new CommandLine(new Examples());
    // Names of files and what is read from them may hold anything.
    line.setOut(HarmlessWriter.to(System.out));
    line.setErr(HarmlessWriter.to(System.err));
    line.setColorScheme(CommandLine.Help.defaultColorScheme(CommandLine.Help.Ansi.OFF));
    line.setParameterExceptionHandler(new WrongUse());
    line.setExecutionExceptionHandler(
        (failure, command, parsed) -> {
          command.getErr().println(WrongUse.text(failure));
          return failure instanceof IllegalArgumentException
                  || failure instanceof NoSuchFileException
              ? 2
              : 1;
        });
    return line;
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.file.FileFault;
import dev.lengthwise.file.ShownText;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.FileSystemException;
import java.util.Arrays;
import java.util.Objects;
import picocli.CommandLine;
import picocli.CommandLine.IParameterExceptionHandler;
import picocli.CommandLine.MissingParameterException;
import picocli.CommandLine.Model.ArgSpec;
import picocli.CommandLine.Model.OptionSpec;
import picocli.CommandLine.OverwrittenOptionException;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;

/** Says what was wrong with a call, in one line, and where the options are listed. */
final class WrongUse implements IParameterExceptionHandler {

  @Override
  public int handleParseException(ParameterException failure, String[] arguments) {
    CommandLine command = failure.getCommandLine();
    PrintWriter err = command.getErr();
    err.println(text(failure));
    err.println("see " + command.getCommandSpec().qualifiedName() + " --help");
    return command.getCommandSpec().exitCodeOnInvalidInput();
  }

  private static String text(ParameterException failure) {
    String name = failure.getCommandLine().getCommandName();
    if (failure instanceof UnmatchedArgumentException unmatched) {
      String rule =
          failure.getCommandLine().getSubcommands().isEmpty()
              ? ": an option that --help lists is expected, found "
              : ": the name of an example is expected, found ";
      return name + rule + unmatched.getUnmatched().get(0);
    }
    if (failure instanceof OverwrittenOptionException twice) {
      return option(twice.getOverwritten()) + ": must be given once, found it again";
    }
    if (failure instanceof MissingParameterException missing) {
      String option = option(missing.getMissing().get(0));
      // The parser has one type for both, and begins them so.
      return failure.getMessage().startsWith("Error: ")
          ? name + ": " + option + " is expected before its --trace, found none"
          : option + ": a value is expected, found none";
    }
    ArgSpec wrong = failure.getArgSpec();
    return wrong == null || failure.getValue() == null
        ? failure.getMessage()
        : option(wrong) + ": " + rule(wrong) + " is expected, found " + failure.getValue();
  }

  private static String option(ArgSpec argument) {
    return argument instanceof OptionSpec option ? option.longestName() : argument.paramLabel();
  }

  private static String rule(ArgSpec argument) {
    Class<?>[] types = argument.auxiliaryTypes();
    Class<?> type = types.length == 0 ? argument.type() : types[types.length - 1];
    if (type.isEnum()) {
      return "one of " + Arrays.toString(type.getEnumConstants());
    }
    return type == double.class || type == Double.class
        ? "a number"
        : type == int.class || type == Integer.class ? "a whole number" : "a value of its kind";
  }

  /** Returns what to say of work that failed, also where the system says nothing. */
  static String text(Exception failure) {
    Throwable cause = failure instanceof UncheckedIOException ? failure.getCause() : failure;
    if (cause instanceof FileSystemException system) {
      String name = system.getFile() == null ? "examples" : ShownText.of(system.getFile());
      return FileFault.reading(name, system).getMessage();
    }
    return Objects.requireNonNullElseGet(failure.getMessage(), failure::toString);
  }
}

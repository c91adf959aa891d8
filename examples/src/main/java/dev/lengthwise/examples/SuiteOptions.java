package dev.lengthwise.examples;

import dev.lengthwise.examples.suite.Suite;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalInt;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Whether the functions of the suite are mapped, and what of them is wanted. */
final class SuiteOptions {

  @Option(
      names = "--suite",
      description = "map the suite instead: sixty functions of named families")
  private boolean given;

  @Option(
      names = "--tool-levels",
      description = "allow as many levels as Yosys takes at its fewest LUTs")
  private boolean toolLevels;

  @Option(
      names = "--stored-tool",
      description = "take the figures of Yosys that are kept with the suite")
  private boolean storedTool;

  @Option(
      names = "--record",
      paramLabel = "VERSION",
      description = {
        "write what was found as this version's results to suite.csv, which has all versions'"
      })
  private Optional<Integer> version = Optional.empty();

  @Spec(Spec.Target.MIXEE)
  private CommandSpec spec;

  /**
   * Checks that the options go together.
   *
   * @param other what is to be mapped by another option
   * @throws ParameterException if they do not
   */
  void check(Optional<String> other) {
    if (given && other.isPresent()) {
      throw wrong("--suite: must not be given with --set or --table, found " + other.get());
    }
    if (!given && (toolLevels || storedTool || version.isPresent())) {
      String option = toolLevels ? "--tool-levels" : storedTool ? "--stored-tool" : "--record";
      throw wrong(option + ": must be given with --suite, found it alone");
    }
    if (version.isPresent() && version.get() < 1) {
      throw wrong("--record: must be at least 1, found " + version.get());
    }
  }

  ParameterException wrong(String message) {
    return new ParameterException(spec.commandLine(), message);
  }

  boolean isGiven() {
    return given;
  }

  /** Tells whether the tool's levels are the most allowed. */
  boolean isBounded() {
    return toolLevels;
  }

  /** Tells whether the tool need not run. */
  boolean isStored() {
    return storedTool;
  }

  /** Returns the version that results are kept as. */
  OptionalInt version() {
    return version.map(OptionalInt::of).orElse(OptionalInt.empty());
  }

  List<MappedFunction> functions() {
    List<MappedFunction> functions = new ArrayList<>();
    Suite.functions().forEach(function -> functions.add(MappedFunction.Tables.of(function)));
    return functions;
  }
}

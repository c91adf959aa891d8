package dev.lengthwise.examples.suite;

import java.util.List;
import java.util.function.Supplier;
import java.util.stream.Stream;

/** The functions. */
public final class Suite {

  private static final List<SuiteFunction> FUNCTIONS =
      Stream.<Supplier<List<SuiteFunction>>>of(
              Arithmetic::all,
              Counting::all,
              Numbers::all,
              Codes::all,
              SubstitutionBoxes::all,
              Elementary::all,
              PrefixCodes::all,
              Selectors::all,
              Checks::all,
              InstructionLengths::all,
              RandomTables::all)
          .flatMap(family -> family.get().stream())
          .toList();

  private Suite() {}

  /**
   * Returns the functions, family by family.
   *
   * @return sixty, each of a name of its own
   */
  public static List<SuiteFunction> functions() {
    return FUNCTIONS;
  }
}

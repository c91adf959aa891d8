package dev.lengthwise.testbench.tool;

import java.nio.file.Path;
import java.util.List;
import java.util.Optional;
import java.util.regex.Pattern;

/** Runs of commands of Yosys (Debian package {@code yosys}). */
public final class YosysRun {

  /** Times the commands are run before an abort of the mapper counts as a failure. */
  private static final int TRIALS = 3;

  /**
   * The mapper that Yosys 0.23 calls aborts now and then on a text that it maps in the next run
   * (one run in some 200 here): its exit status is then that of SIGABRT or SIGSEGV.
   */
  private static final Pattern ABORTED = Pattern.compile("ABC: .*return code (134|139)");

  private YosysRun() {}

  /**
   * Runs commands, again if the mapper aborts.
   *
   * @param program the name of the program
   * @param folder where to run it
   * @param seconds how long each run may take
   * @param commands with semicolons between them
   * @return the last run, or empty if it took too long
   * @throws IllegalStateException if Yosys is not installed
   */
  public static Optional<ToolRun> within(
      String program, Path folder, int seconds, String commands) {
    Optional<ToolRun> run = Optional.empty();
    for (int trial = 0; trial < TRIALS; trial++) {
      run = ToolRun.within("yosys", folder, seconds, List.of(program, "-q", "-p", commands));
      if (run.isEmpty() || run.get().status() == 0 || !ABORTED.matcher(run.get().output()).find()) {
        break;
      }
    }
    return run;
  }
}

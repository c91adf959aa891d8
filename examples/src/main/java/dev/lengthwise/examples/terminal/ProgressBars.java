package dev.lengthwise.examples.terminal;

import java.io.IOException;
import java.util.Map;
import java.util.Optional;
import me.tongfei.progressbar.DelegatingProgressBarConsumer;
import me.tongfei.progressbar.ProgressBarBuilder;

/**
 * Progress bars that are shown on a terminal and nowhere else: a log gets none of their control
 * characters. The variable {@code NO_COLOR}, set to anything, and a terminal that calls itself
 * {@code dumb} keep them away too.
 */
public final class ProgressBars {

  private ProgressBars() {}

  /**
   * Starts a bar.
   *
   * @param name what is at work
   * @param most its steps, or -1 if they are not known
   * @return its builder
   */
  public static ProgressBarBuilder of(String name, long most) {
    ProgressBarBuilder bar = new ProgressBarBuilder().setTaskName(name).setInitialMax(most);
    return isShown(System.getenv(), isTerminal())
        ? bar
        : bar.setConsumer(new DelegatingProgressBarConsumer(text -> {}));
  }

  /**
   * Tells whether bars are shown; an empty {@code NO_COLOR} counts as none.
   *
   * @param environment the variables
   * @param terminal whether the error output is one
   * @return whether they are
   */
  public static boolean isShown(Map<String, String> environment, boolean terminal) {
    return terminal
        && environment.getOrDefault("NO_COLOR", "").isEmpty()
        && !Optional.ofNullable(environment.get("TERM")).orElse("dumb").equals("dumb");
  }

  /** Asks the system whether the error output, where bars go, is a terminal. */
  private static boolean isTerminal() {
    try {
      return new ProcessBuilder("test", "-t", "2")
              .redirectError(ProcessBuilder.Redirect.INHERIT)
              .start()
              .waitFor()
          == 0;
    } catch (IOException e) {
      return false; // no such program, so not known to be one
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }
}

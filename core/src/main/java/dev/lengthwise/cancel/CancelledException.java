package dev.lengthwise.cancel;

import org.jspecify.annotations.Nullable;

/**
 * Thrown by work whose thread was interrupted. The interrupt flag is set then, and nothing that the
 * work has begun goes on; what it was to return or to write is not there.
 */
public final class CancelledException extends RuntimeException {

  private static final long serialVersionUID = 1;

  // Not public, as java.util.concurrent would make copies without the message.
  private CancelledException(@Nullable Throwable cause) {
    super("work: its thread must not be interrupted before the end, found an interrupt", cause);
  }

  /**
   * Makes the exception; the interrupt flag is the caller's to set.
   *
   * @param cause what reported the interrupt; null if the flag itself did
   * @return the exception
   */
  public static CancelledException of(@Nullable Throwable cause) {
    return new CancelledException(cause);
  }
}

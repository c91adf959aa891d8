package dev.lengthwise.file;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;

/** Says of failures that the system reports which file it is about and what was expected. */
public final class FileFault {

  private FileFault() {}

  /**
   * Returns the failure to read a file.
   *
   * @param name what messages call the file
   * @param failure what happened
   * @return a failure whose message names the file, what is expected and what was found; the same
   *     one if it names the file already
   */
  public static IOException reading(String name, IOException failure) {
    return said(name, "read", failure);
  }

  /**
   * Returns the failure to write a file.
   *
   * @param file the file
   * @param failure what happened
   * @return a failure whose message names the file, what is expected and what was found; the same
   *     one if it names a file already
   */
  public static IOException writing(Path file, IOException failure) {
    return said(ShownText.of(file.toString()), "written", failure);
  }

  private static IOException said(String name, String done, IOException failure) {
    String message = String.valueOf(failure.getMessage());
    boolean isOurs =
        message.startsWith(name + ", ")
            || message.startsWith(name + ": ") && !(failure instanceof FileSystemException);
    if (isOurs || message.contains(" expected, found ")) {
      return failure;
    }
    IOException said = of(name, done, failure, message);
    said.initCause(failure);
    return said;
  }

  private static IOException of(String name, String done, IOException failure, String message) {
    if (failure instanceof NoSuchFileException) {
      return new NoSuchFileException(name, null, "a file is expected, found none");
    }
    String expected = "a file that can be " + done + " is expected, found ";
    if (failure instanceof AccessDeniedException) {
      return new AccessDeniedException(name, null, expected + "no right to it");
    }
    String reason = message;
    if (failure instanceof FileSystemException system) {
      reason = system.getReason() == null ? system.getClass().getSimpleName() : system.getReason();
    }
    return new FileSystemException(name, null, expected + '"' + reason + '"');
  }
}

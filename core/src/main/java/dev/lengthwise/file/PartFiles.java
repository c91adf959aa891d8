package dev.lengthwise.file;

import java.io.IOException;
import java.io.InterruptedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;

/**
 * The hidden files of work that goes on. If the program is told to end meanwhile, they are deleted,
 * after files that are just taking their places have done so.
 */
final class PartFiles {

  private static final Set<Path> LIVE = ConcurrentHashMap.newKeySet();

  private static final Object PLACING = new Object();

  /** Whether the end of the program deletes what is left; not if that has begun already. */
  private static final boolean WATCHED = watch();

  private PartFiles() {}

  /** Work on files that is not broken off. */
  @FunctionalInterface
  interface Work {
    void run() throws IOException;
  }

  private static boolean watch() {
    try {
      Runtime.getRuntime().addShutdownHook(new Thread(PartFiles::end, "lengthwise part files"));
      return true;
    } catch (IllegalStateException e) {
      return false;
    }
  }

  /**
   * Returns a new hidden name in a folder.
   *
   * @throws InterruptedIOException if the program is ending, as nobody would delete the file
   */
  static Path in(Path folder) throws InterruptedIOException {
    if (!WATCHED) {
      throw new InterruptedIOException("the program is ending");
    }
    Path part = folder.resolve(".lengthwise-" + UUID.randomUUID() + ".part");
    LIVE.add(part);
    return part;
  }

  /** Says that a hidden file is no more. */
  static void forget(Path part) {
    LIVE.remove(part);
  }

  /** Deletes a hidden file or an empty folder; what cannot be deleted stays. */
  static void delete(Path part) {
    forget(part);
    try {
      Files.deleteIfExists(part);
    } catch (IOException e) {
      // The failure that led here says more, and a hidden file does no harm.
    }
  }

  /** Does work that the end of the program waits for. */
  static void whole(Work work) throws IOException {
    synchronized (PLACING) {
      work.run();
    }
  }

  private static void end() {
    synchronized (PLACING) {
      LIVE.forEach(PartFiles::delete);
    }
  }
}

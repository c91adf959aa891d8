package dev.lengthwise.file;

import java.io.Closeable;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.util.UUID;

/**
 * The right to be the only one that goes on writing a file, among programs and within one. It is
 * held by a hidden file beside, whose lock the system takes back from a program that is killed.
 */
public final class WriteLock implements Closeable {

  private final Path held;
  private final FileChannel channel;

  private WriteLock(Path held, FileChannel channel) {
    this.held = held;
    this.channel = channel;
  }

  /**
   * Takes the right to a file.
   *
   * @param file the file; its folder is made if it is missing
   * @return the right, to be closed
   * @throws IOException if another run holds it, or the folder cannot be written in; the message
   *     names the folder
   */
  public static WriteLock of(Path file) throws IOException {
    Path folder = file.toAbsolutePath().getParent();
    Path held = folder.resolve("." + file.getFileName() + ".lock");
    try {
      Files.createDirectories(folder);
      while (true) {
        FileChannel channel =
            FileChannel.open(held, StandardOpenOption.CREATE, StandardOpenOption.WRITE);
        if (!isLocked(channel)) {
          channel.close();
          throw new FileSystemException(
              ShownText.of(folder.toString()),
              null,
              "one run that writes "
                  + ShownText.of(file.getFileName().toString())
                  + " at a time is expected, found another one at work");
        }
        if (isOurs(held, channel)) {
          return new WriteLock(held, channel);
        }
        channel.close(); // of a file that the holder before has deleted
      }
    } catch (IOException e) {
      throw FileFault.writing(held, e);
    }
  }

  private static boolean isLocked(FileChannel channel) throws IOException {
    try {
      FileLock lock = channel.tryLock();
      return lock != null;
    } catch (OverlappingFileLockException e) {
      return false;
    }
  }

  /**
   * Tells whether the locked file is still the one at its place, by a size that no other has. It is
   * not opened for that, as systems take a lock back when any channel to the file is closed.
   */
  private static boolean isOurs(Path held, FileChannel channel) throws IOException {
    long last = UUID.randomUUID().getLeastSignificantBits() >>> 33;
    channel.truncate(0);
    channel.write(ByteBuffer.allocate(1), last);
    return Files.exists(held) && Files.size(held) == last + 1;
  }

  /** Gives the right back. */
  @Override
  public void close() throws IOException {
    try {
      Files.deleteIfExists(held);
    } finally {
      channel.close();
    }
  }
}

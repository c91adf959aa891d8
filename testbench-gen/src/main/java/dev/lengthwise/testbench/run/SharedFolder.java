package dev.lengthwise.testbench.run;

import dev.lengthwise.testbench.tool.WorkFolder;
import java.io.IOException;
import java.nio.channels.FileChannel;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;

/** A folder that several processes read, and that the first of them fills. */
final class SharedFolder {

  private SharedFolder() {}

  /** Writes the files of a folder. */
  interface Filler {

    /** Writes them into an empty folder, which is renamed afterwards. */
    void fill(Path folder) throws IOException;
  }

  /**
   * Returns a folder that has all its files. Other processes wait meanwhile; threads of one must
   * not call this at the same time.
   *
   * @param folder where it is to be
   * @param filler writes the files if it is not there
   * @return its absolute path
   * @throws IOException if it cannot be filled; then nothing is left of it
   */
  static Path filled(Path folder, Filler filler) throws IOException {
    Path whole = folder.toAbsolutePath();
    Path parent = Files.createDirectories(whole.getParent());
    Path held = parent.resolve("." + whole.getFileName() + ".lock");
    // The system takes the lock back when the channel is closed or the process is killed.
    try (FileChannel channel =
        FileChannel.open(held, StandardOpenOption.CREATE, StandardOpenOption.WRITE)) {
      channel.lock();
      if (!Files.isDirectory(whole)) {
        WorkFolder part = new WorkFolder(Files.createTempDirectory(parent, ".part"));
        try {
          filler.fill(part.path());
          Files.move(part.path(), whole, StandardCopyOption.ATOMIC_MOVE);
        } catch (IOException | RuntimeException e) {
          part.close();
          throw e;
        }
      }
    }
    return whole;
  }
}

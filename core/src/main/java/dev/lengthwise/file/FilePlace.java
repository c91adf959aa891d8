package dev.lengthwise.file;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.FileSystemException;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.StandardOpenOption;
import java.util.Objects;

/** The place of a file, the new file beside it, and the old one as long as both are needed. */
final class FilePlace {

  private final Path file;
  private final Path target;
  private Path part; // null before it is written and when it has its place
  private Path old; // null if there is none

  private FilePlace(Path file, Path target) {
    this.file = file;
    this.target = target;
  }

  /** Looks at a place, through a link, and says what is wrong with it. */
  static FilePlace of(Path file) throws IOException {
    Path target = file.toAbsolutePath();
    if (Files.isSymbolicLink(target)) {
      try {
        target = target.toRealPath();
      } catch (NoSuchFileException e) {
        throw wrong(file, "a regular file", "a link to nothing");
      } catch (IOException e) {
        throw FileFault.writing(file, e);
      }
    }
    if (Files.exists(target, LinkOption.NOFOLLOW_LINKS)) {
      if (!Files.isRegularFile(target)) {
        throw wrong(
            file,
            "a regular file",
            Files.isDirectory(target) ? "a folder" : "neither a file nor a folder");
      }
      if (!Files.isWritable(target)) {
        throw wrong(file, "a file that can be written", "no right to it");
      }
    }
    Path folder = target.getParent();
    while (folder != null && !Files.exists(folder, LinkOption.NOFOLLOW_LINKS)) {
      folder = folder.getParent();
    }
    if (folder == null || !Files.isDirectory(folder)) {
      throw wrong(Objects.requireNonNullElse(folder, target), "a folder", "something else");
    }
    if (!Files.isWritable(folder)) {
      throw wrong(folder, "a folder that can be written in", "no right to it");
    }
    return new FilePlace(file, target);
  }

  private static FileSystemException wrong(Path file, String expected, String found) {
    return new FileSystemException(
        ShownText.of(file.toString()), null, expected + " is expected, found " + found);
  }

  /** Returns the folder that the file is in. */
  Path folder() {
    return target.getParent();
  }

  /** Writes the new file beside its place. */
  void stage(WholeFiles.Content content) throws IOException {
    try {
      part = PartFiles.in(folder());
      try (OutputStream out =
          Files.newOutputStream(part, StandardOpenOption.CREATE_NEW, StandardOpenOption.WRITE)) {
        content.writeTo(out);
      }
    } catch (IOException e) {
      throw FileFault.writing(file, e);
    }
  }

  /** Keeps the old file under a hidden name too, so that it can come back. */
  void keepOld() throws IOException {
    if (!Files.exists(target)) {
      return;
    }
    try {
      old = PartFiles.in(folder());
      try {
        Files.createLink(old, target);
      } catch (UnsupportedOperationException | FileSystemException e) {
        Files.copy(target, old, StandardCopyOption.COPY_ATTRIBUTES);
      }
    } catch (IOException e) {
      throw FileFault.writing(file, e);
    }
  }

  /** Puts the new file into its place. */
  void replace() throws IOException {
    try {
      Files.move(part, target, StandardCopyOption.ATOMIC_MOVE);
    } catch (IOException e) {
      throw FileFault.writing(file, e);
    }
    PartFiles.forget(part);
    part = null;
  }

  /** Puts the old file back, or takes the new one away. */
  void restore() throws IOException {
    if (old == null) {
      Files.deleteIfExists(target);
      return;
    }
    Files.move(old, target, StandardCopyOption.ATOMIC_MOVE);
    PartFiles.forget(old);
    old = null;
  }

  /** Deletes what is left of the work. */
  void clean() {
    if (part != null) {
      PartFiles.delete(part);
    }
    if (old != null) {
      PartFiles.delete(old);
    }
  }
}

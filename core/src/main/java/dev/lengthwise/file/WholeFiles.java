package dev.lengthwise.file;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.CharBuffer;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * Writes files whole or not at all.
 *
 * <p>The places of all files are looked at first, then every file is written under a hidden name in
 * the folder that it belongs to, and only then do all take their places. So a run that fails leaves
 * every old file as it was, also where folders are mounted or linked from other file systems; one
 * that is killed leaves each file old or new, never a part, and maybe hidden files named {@code
 * .lengthwise-*} that can be deleted. What is no regular file, such as a device, is never replaced;
 * a link stays, and the file that it leads to is replaced. New files have the rights that files
 * have by default.
 */
public final class WholeFiles {

  private WholeFiles() {}

  /** Writes the content of a file. */
  @FunctionalInterface
  public interface Content {

    /**
     * Writes all of it.
     *
     * @param out takes the bytes
     * @throws IOException if they cannot be had or written
     */
    void writeTo(OutputStream out) throws IOException;
  }

  /**
   * Returns the content that a text makes.
   *
   * @param text the text
   * @param charset how it is coded; what the code lacks is a failure
   * @return the content
   */
  public static Content text(String text, Charset charset) {
    return out -> {
      var bytes = charset.newEncoder().encode(CharBuffer.wrap(text));
      out.write(bytes.array(), bytes.arrayOffset(), bytes.remaining());
    };
  }

  /**
   * Writes a text as UTF-8.
   *
   * @param file the file; its folder is made if it is missing
   * @param text the text
   * @throws IOException as {@link #write(Map)}
   */
  public static void write(Path file, String text) throws IOException {
    write(file, text(text, StandardCharsets.UTF_8));
  }

  /**
   * Writes a file.
   *
   * @param file the file; its folder is made if it is missing
   * @param content its content
   * @throws IOException as {@link #write(Map)}
   */
  public static void write(Path file, Content content) throws IOException {
    write(Map.of(file, content));
  }

  /**
   * Writes files, all or none.
   *
   * @param files the content of each file, in the order in which they are written; folders are made
   *     if they are missing
   * @throws IOException if a file cannot be written, or something else stands at its place; the
   *     message names the file, what is expected and what was found, and all files are as they were
   */
  public static void write(Map<Path, Content> files) throws IOException {
    Map<Path, FilePlace> places = new LinkedHashMap<>();
    for (Path file : files.keySet()) {
      places.put(file, FilePlace.of(file));
    }
    List<Path> folders = new ArrayList<>();
    boolean done = false;
    try {
      for (Map.Entry<Path, FilePlace> entry : places.entrySet()) {
        makeFolders(entry.getValue().folder(), folders);
        entry.getValue().stage(files.get(entry.getKey()));
      }
      PartFiles.whole(() -> place(new ArrayList<>(places.values())));
      done = true;
    } finally {
      places.values().forEach(FilePlace::clean);
      if (!done) {
        Collections.reverse(folders);
        folders.forEach(PartFiles::delete);
      }
    }
  }

  private static void place(List<FilePlace> places) throws IOException {
    int placed = 0;
    try {
      if (places.size() > 1) {
        for (FilePlace place : places) {
          place.keepOld();
        }
      }
      for (FilePlace place : places) {
        place.replace();
        placed++;
      }
    } catch (IOException e) {
      for (FilePlace place : places.subList(0, placed)) {
        place.restore();
      }
      throw e;
    }
  }

  /** Makes a folder and those above it, and keeps which were missing. */
  private static void makeFolders(Path folder, List<Path> made) throws IOException {
    if (!Files.isDirectory(folder)) {
      makeFolders(folder.getParent(), made);
      try {
        Files.createDirectory(folder);
        made.add(folder);
      } catch (FileAlreadyExistsException e) {
        // Another program may have made it meanwhile; then it is not ours to take away.
        if (!Files.isDirectory(folder)) {
          throw FileFault.writing(folder, e);
        }
      } catch (IOException e) {
        throw FileFault.writing(folder, e);
      }
    }
  }
}

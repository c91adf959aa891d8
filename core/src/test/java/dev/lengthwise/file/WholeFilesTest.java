package dev.lengthwise.file;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Files take their places together, whatever stands there and wherever it is mounted. */
class WholeFilesTest {

  /** A file system of its own on every Linux, where any user may write. */
  private static final Path OTHER = Path.of("/dev/shm");

  @TempDir Path folder;

  private Map<Path, WholeFiles.Content> files;

  @BeforeEach
  void oldFiles() throws IOException {
    Files.writeString(folder.resolve("a"), "old a");
    Files.createDirectory(folder.resolve("sub"));
    Files.writeString(folder.resolve("sub/b"), "old b");
    files = new LinkedHashMap<>();
    add("a", "new a");
    add("sub/b", "new b");
    add("deep/er/c", "new c");
  }

  private void add(String name, String text) {
    files.put(folder.resolve(name), WholeFiles.text(text, StandardCharsets.UTF_8));
  }

  /** Returns what there is, hidden files too: folders end in a slash, files have their text. */
  private static Map<String, String> tree(Path root) throws IOException {
    Map<String, String> found = new TreeMap<>();
    try (Stream<Path> paths = Files.walk(root)) {
      for (Path path : paths.filter(p -> !p.equals(root)).toList()) {
        String name = root.relativize(path).toString();
        if (Files.isDirectory(path)) {
          found.put(name + "/", "");
        } else {
          found.put(name, Files.isRegularFile(path) ? Files.readString(path) : "no file");
        }
      }
    }
    return found;
  }

  private void assertFails(String message) throws IOException {
    Map<String, String> before = tree(folder);
    IOException e = assertThrows(IOException.class, () -> WholeFiles.write(files));
    assertThat(e).hasMessageThat().isEqualTo(message);
    assertThat(tree(folder)).isEqualTo(before);
  }

  @Test
  void write_all_takeTheirPlaces() throws IOException {
    WholeFiles.write(files);
    assertThat(tree(folder))
        .containsExactly(
            "a",
            "new a",
            "sub/",
            "",
            "sub/b",
            "new b",
            "deep/",
            "",
            "deep/er/",
            "",
            "deep/er/c",
            "new c");
  }

  @Test
  void write_folderAtAPlace_leavesAllAsItWas() throws IOException {
    Files.createDirectories(folder.resolve("z"));
    add("z", "new z");
    assertFails(folder.resolve("z") + ": a regular file is expected, found a folder");
  }

  @Test
  void write_fileWhereAFolderIsNeeded_leavesAllAsItWas() throws IOException {
    add("a/z", "new z");
    files.remove(folder.resolve("a"));
    assertFails(folder.resolve("a") + ": a folder is expected, found something else");
  }

  @Test
  void write_pipeOrDevice_isNotReplaced() throws Exception {
    Path pipe = folder.resolve("pipe");
    assertThat(new ProcessBuilder("mkfifo", pipe.toString()).start().waitFor()).isEqualTo(0);
    add("pipe", "new");
    assertFails(pipe + ": a regular file is expected, found neither a file nor a folder");
    assertThat(
            assertThrows(IOException.class, () -> WholeFiles.write(Path.of("/dev/null"), "text")))
        .hasMessageThat()
        .isEqualTo("/dev/null: a regular file is expected, found neither a file nor a folder");
  }

  @Test
  void write_links_stay_andTheirFilesAreReplaced() throws IOException {
    Files.createSymbolicLink(folder.resolve("link"), Path.of("sub", "b"));
    WholeFiles.write(folder.resolve("link"), "through");
    assertThat(Files.isSymbolicLink(folder.resolve("link"))).isTrue();
    assertThat(tree(folder))
        .containsExactly("a", "old a", "link", "through", "sub/", "", "sub/b", "through");
    Files.createSymbolicLink(folder.resolve("nowhere"), Path.of("none"));
    add("nowhere", "x");
    IOException e = assertThrows(IOException.class, () -> WholeFiles.write(files));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(
            folder.resolve("nowhere") + ": a regular file is expected, found a link to nothing");
    assertThat(Files.readString(folder.resolve("a"))).isEqualTo("old a");
  }

  /** Both a folder that is a mount point itself and links from one file system to another. */
  @Test
  void write_otherFileSystems_takeTheirPlacesToo() throws IOException {
    assertWithMessage("a file system of its own at " + OTHER)
        .that(Files.getFileStore(OTHER))
        .isNotEqualTo(Files.getFileStore(folder));
    Path other = Files.createTempDirectory(OTHER, "lengthwise");
    try {
      Files.createSymbolicLink(folder.resolve("away"), other);
      Files.writeString(other.resolve("back"), "old");
      Files.createSymbolicLink(folder.resolve("link"), other.resolve("back"));
      add("away/d", "new d");
      add("link", "new");
      WholeFiles.write(files);
      assertThat(tree(other)).containsExactly("back", "new", "d", "new d");
      assertThat(Files.readString(folder.resolve("a"))).isEqualTo("new a");
      Path atTheTop = OTHER.resolve("lengthwise-" + other.getFileName());
      WholeFiles.write(atTheTop, "at the top");
      assertThat(Files.readString(atTheTop)).isEqualTo("at the top");
      Files.delete(atTheTop);
    } finally {
      for (String name : tree(other).keySet()) {
        Files.delete(other.resolve(name));
      }
      Files.delete(other);
    }
  }

  @Test
  void write_fullFileSystem_leavesAllAsItWas() throws IOException {
    files.put(
        folder.resolve("big"),
        out -> {
          out.write(new byte[100_000]);
          throw new IOException("No space left on device"); // as the system says it
        });
    assertFails(
        folder.resolve("big")
            + ": a file that can be written is expected, found \"No space left on device\"");
  }

  /** Something that comes to stand at a place after all were looked at fails the move there. */
  @Test
  void write_placeTakenMeanwhile_bringsOldFilesBack() throws IOException {
    Path last = folder.resolve("z");
    files.put(
        last,
        out -> {
          Files.createDirectories(last.resolve("in"));
          out.write('z');
        });
    IOException e = assertThrows(IOException.class, () -> WholeFiles.write(files));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(last + ": a file that can be written is expected, found \"Is a directory\"");
    assertThat(tree(folder))
        .containsExactly("a", "old a", "sub/", "", "sub/b", "old b", "z/", "", "z/in/", "");
  }

  @Test
  void write_severalAtOnceInAFolderThatIsMissing_allTakeTheirPlaces() {
    for (int round = 0; round < 50; round++) {
      Path missing = folder.resolve("missing" + round + "/er");
      IntStream.range(0, 8)
          .parallel()
          .forEach(
              number ->
                  assertDoesNotThrow(
                      () -> WholeFiles.write(missing.resolve("file" + number), "new")));
    }
  }

  @Test
  void write_readOnly_saysSo() throws IOException {
    Files.setPosixFilePermissions(
        folder.resolve("sub"), PosixFilePermissions.fromString("r-xr-xr-x"));
    try {
      if (Files.isWritable(folder.resolve("sub"))) { // for the superuser all is writable
        WholeFiles.write(files);
        assertThat(Files.readString(folder.resolve("sub/b"))).isEqualTo("new b");
      } else {
        assertFails(
            folder.resolve("sub")
                + ": a folder that can be written in is expected, found no right to it");
      }
    } finally {
      Files.setPosixFilePermissions(
          folder.resolve("sub"), PosixFilePermissions.fromString("rwxr-xr-x"));
    }
  }

  @Test
  void write_rights_areThoseOfAnyNewFile() throws IOException {
    WholeFiles.write(files);
    Path any = Files.writeString(folder.resolve("any"), "");
    for (Path file : files.keySet()) {
      assertThat(Files.getPosixFilePermissions(file, LinkOption.NOFOLLOW_LINKS))
          .isEqualTo(Files.getPosixFilePermissions(any));
    }
  }

  @Test
  void text_thatTheCharsetLacks_isAFailure() throws IOException {
    files.put(folder.resolve("z"), WholeFiles.text("\u00e9", StandardCharsets.US_ASCII));
    assertFails(
        folder.resolve("z")
            + ": a file that can be written is expected, found \"Input length = 1\"");
  }

  /** Run in a process of its own: writes two files, and hangs or goes on in the second. */
  static final class Writer {

    private Writer() {}

    public static void main(String[] arguments) throws IOException {
      Path folder = Path.of(arguments[0]);
      Map<Path, WholeFiles.Content> files = new LinkedHashMap<>();
      files.put(folder.resolve("a"), out -> out.write('n'));
      files.put(
          folder.resolve("sub/b"),
          out -> {
            out.write(new byte[Integer.parseInt(arguments[1])]);
            System.out.println("half way");
            System.out.flush();
            if (System.in.read() >= 0) {
              throw new IOException("no input is expected");
            }
          });
      WholeFiles.write(files);
    }
  }

  /** Run in a process of its own: writes its first files when the program is ending already. */
  static final class LateWriter {

    private LateWriter() {}

    public static void main(String[] arguments) {
      Path file = Path.of(arguments[0]).resolve("late");
      Thread late =
          new Thread(
              () -> {
                try {
                  WholeFiles.write(Map.of(file, out -> out.write('n')));
                  System.out.println("written");
                } catch (IOException e) {
                  System.out.println(e.getMessage());
                }
              });
      Runtime.getRuntime().addShutdownHook(late);
    }
  }

  @Test
  void write_whenTheProgramEnds_saysSoAndLeavesOldFiles() throws Exception {
    Map<String, String> before = tree(folder);
    Process process = process(LateWriter.class, List.of());
    assertThat(process.inputReader().readLine())
        .isEqualTo(
            folder.resolve("late")
                + ": a file that can be written is expected, found \"the program is ending\"");
    process.waitFor();
    assertThat(tree(folder)).isEqualTo(before);
  }

  private Process writer(int bytes) throws IOException {
    return process(Writer.class, List.of(Integer.toString(bytes)));
  }

  private Process process(Class<?> program, List<String> arguments) throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.add("-XX:-UsePerfData");
    command.add("-cp");
    command.add(places());
    command.add(program.getName());
    command.add(folder.toString());
    command.addAll(arguments);
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  private static String places() {
    return Stream.of(WholeFiles.class, Writer.class)
        .map(type -> type.getProtectionDomain().getCodeSource().getLocation())
        .map(url -> Path.of(java.net.URI.create(url.toString())).toString())
        .distinct()
        .reduce((a, b) -> a + java.io.File.pathSeparator + b)
        .orElseThrow();
  }

  @Test
  void write_killedHalfWay_leavesOldFiles() throws Exception {
    Process process = writer(10);
    assertThat(process.inputReader().readLine()).isEqualTo("half way");
    process.toHandle().destroyForcibly(); // closes no stream, so it is the signal that ends it
    process.waitFor();
    assertThat(Files.readString(folder.resolve("a"))).isEqualTo("old a");
    assertThat(Files.readString(folder.resolve("sub/b"))).isEqualTo("old b");
  }

  @Test
  void write_toldToEndHalfWay_leavesNothingElse() throws Exception {
    Map<String, String> before = tree(folder);
    Process process = writer(10);
    assertThat(process.inputReader().readLine()).isEqualTo("half way");
    process.toHandle().destroy();
    process.waitFor();
    assertThat(tree(folder)).isEqualTo(before);
  }

  /** The shell's limit on the size of files stands for a file system without room. */
  @Test
  void write_noRoom_leavesOldFiles() throws Exception {
    Map<String, String> before = tree(folder);
    Path log = Files.createTempFile("lengthwise", ".log");
    Process process =
        new ProcessBuilder(
                "sh",
                "-c",
                "ulimit -f 64; exec \"$@\" 2> '" + log + "'",
                "sh",
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-XX:-UsePerfData",
                "-cp",
                places(),
                Writer.class.getName(),
                folder.toString(),
                "1000000")
            .start();
    process.getOutputStream().close();
    assertThat(process.waitFor()).isEqualTo(1);
    assertThat(Files.readString(log))
        .contains(
            folder.resolve("sub/b")
                + ": a file that can be written is expected, found \"File too large\"");
    Files.delete(log);
    assertThat(tree(folder)).isEqualTo(before);
  }
}

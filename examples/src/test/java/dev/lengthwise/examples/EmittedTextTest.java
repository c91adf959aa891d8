package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.javamodel.JavaModel;
import dev.lengthwise.realize.Style;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.lang.reflect.Method;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInfo;
import org.junit.jupiter.api.io.TempDir;

/**
 * The text emitted for Tidegate is the text that was reviewed, and outside tools read it: Icarus
 * Verilog (Debian package iverilog), GHDL (Debian package ghdl) and the JDK's compiler.
 */
class EmittedTextTest {

  /** Tests that have golden files; each has a folder called as the method. */
  private static final Set<String> METHODS = Set.of("verilog", "vhdl", "java");

  /** The styles that are kept; the network of LUTs changes whenever the mapper finds a better. */
  private static final List<Style> STYLES = List.of(Style.ROM, Style.BANKED);

  @TempDir Path work;

  @Test
  void verilog(TestInfo test) throws Exception {
    List<OutputFile> files = new ArrayList<>();
    for (Style style : STYLES) {
      new Verilog()
          .files(TidegateTrees.design(style).circuit())
          .forEach(file -> files.add(inFolder(style, file)));
    }
    GoldenFiles golden = check(test, files);
    for (Style style : STYLES) {
      List<String> command = new ArrayList<>(List.of("iverilog", "-g2005", "-Wall", "-tnull"));
      command.addAll(kept(golden, style, "verilog", ".v"));
      assertThat(run("iverilog", command)).isEmpty();
    }
  }

  @Test
  void vhdl(TestInfo test) throws Exception {
    List<OutputFile> files = new ArrayList<>();
    for (Style style : STYLES) {
      new Vhdl()
          .files(TidegateTrees.design(style).circuit())
          .forEach(file -> files.add(inFolder(style, file)));
    }
    GoldenFiles golden = check(test, files);
    for (Style style : STYLES) {
      for (String edition : List.of("93", "08")) {
        List<String> command = new ArrayList<>(List.of("ghdl", "-s", "--std=" + edition));
        command.addAll(kept(golden, style, "vhdl", ".vhd"));
        assertThat(run("ghdl", command)).isEmpty();
      }
    }
  }

  @Test
  void java(TestInfo test) throws Exception {
    GoldenFiles golden = check(test, new JavaModel().files(TidegateTrees.design(Style.ROM)));
    List<String> arguments = new ArrayList<>(List.of("-Xlint:all", "-d", work.toString()));
    try (Stream<Path> paths = Files.walk(golden.folder())) {
      paths.filter(Files::isRegularFile).map(Path::toString).sorted().forEach(arguments::add);
    }
    ByteArrayOutputStream said = new ByteArrayOutputStream();
    int status =
        ToolProvider.getSystemJavaCompiler()
            .run(null, said, said, arguments.toArray(String[]::new));
    assertThat(said.toString(StandardCharsets.UTF_8)).isEmpty();
    assertThat(status).isEqualTo(0);
  }

  @Test
  void folders_haveATestEach() throws IOException {
    assertThat(GoldenFiles.methods(EmittedTextTest.class)).isEqualTo(new TreeSet<>(METHODS));
    assertThat(
            Arrays.stream(EmittedTextTest.class.getDeclaredMethods())
                .map(Method::getName)
                .collect(Collectors.toSet()))
        .containsAtLeastElementsIn(METHODS);
    assertThat(GoldenFiles.classes()).containsExactly("EmittedTextTest");
  }

  private static OutputFile inFolder(Style style, OutputFile file) {
    return new OutputFile(style.label() + '/' + file.path(), file.text());
  }

  private static GoldenFiles check(TestInfo test, List<OutputFile> files) throws IOException {
    GoldenFiles golden =
        new GoldenFiles(EmittedTextTest.class, test.getTestMethod().orElseThrow().getName());
    golden.check(files);
    return golden;
  }

  /** Returns the kept files of a style in compile order, which the emitted list gives. */
  private static List<String> kept(GoldenFiles golden, Style style, String language, String suffix)
      throws IOException {
    Path folder = golden.folder().resolve(style.label()).resolve(language).toAbsolutePath();
    try (Stream<Path> paths = Files.list(folder)) {
      Path list = paths.filter(path -> !path.toString().endsWith(suffix)).findFirst().orElseThrow();
      return Files.readAllLines(list).stream()
          .filter(line -> line.endsWith(suffix))
          .map(line -> folder.resolve(line).toString())
          .toList();
    }
  }

  /** Returns what a program prints; it must end with status 0. */
  private String run(String debianPackage, List<String> command) throws Exception {
    Path log = work.resolve("log");
    Process process;
    try {
      process =
          new ProcessBuilder(command)
              .directory(work.toFile())
              .redirectErrorStream(true)
              .redirectInput(new File("/dev/null"))
              .redirectOutput(log.toFile())
              .start();
    } catch (IOException e) {
      throw new AssertionError(command.get(0) + ": install the Debian package " + debianPackage, e);
    }
    int status = process.waitFor();
    String output = Files.readString(log);
    assertWithMessage("%s: %s", command, output).that(status).isEqualTo(0);
    return output;
  }
}

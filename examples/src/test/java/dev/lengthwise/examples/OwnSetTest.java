package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.isa.SetProvider;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Slow;
import java.io.ByteArrayOutputStream;
import java.io.File;
import java.io.IOException;
import java.io.PrintStream;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.tools.ToolProvider;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * A user's own instruction set, one class and its name in {@code META-INF/services}, compiled here
 * and put on the class path: every example takes it by {@code --set} (Debian packages iverilog and
 * yosys, which the examples call).
 */
@Slow
@CallsTools
class OwnSetTest {

  /** A comparison with tools takes longer than all else here. */
  private static final String WITHOUT_TOOLS = "/nowhere";

  /** What the user wrote. Nothing of ours was tuned on it. */
  private static final String SOURCE =
      """
      package org.example.weir;

      import dev.lengthwise.isa.SetProvider;
      import dev.lengthwise.table.*;

      public class %1$s implements SetProvider {
        public String name() { return "weir"; }

        public InstructionSet instructionSet() {
          OperandSpecifier boards = OperandSpecifier.named("boards")
              .when("0xxx_xxxx", 0).when("10xx_xxxx", 2).when("11xx_xxxx", 1).build();
          LengthTable table = LengthTable.named("weir")
              .mode("flood")
              .map("base", map -> map
                  .rows(0x00, 0x5f).bytes(1)
                  .rows(0x60, 0x9f).bytes(2).specifier(boards)
                  .rows(0xa0, 0xcf).bytes(3).grows("flood", 1)
                  .rows(0xd0, 0xd3).escape("rare")
                  .others().undefined())
              .map("rare", map -> map.rows(0, 0x3f).bytes(4).others().undefined())
              .build();
          %2$s
          return InstructionSet.of(table, PrefixRules.builder().flips(0xf5, "flood").most(2).build(), 9);
        }
      }
      """;

  @TempDir Path folder;
  private Path classes;
  private Path code;
  private String said;

  @BeforeEach
  void writeSet() throws IOException {
    classes = Files.createDirectories(folder.resolve("classes"));
    provide("Weir", "");
    // Of one byte, two, three with a board, three, four when flooded, and four of the rare map.
    byte[] once = {0x01, 0x60, 0x11, 0x61, -64, 9, -96, 1, 2, -11, -95, 1, 2, 3, -48, 5, 1, 2};
    byte[] all = new byte[once.length * 40];
    for (int i = 0; i < all.length; i++) {
      all[i] = once[i % once.length];
    }
    code = Files.write(folder.resolve("weir.bin"), all);
  }

  /** Compiles a provider into the user's folder, beside those that are there. */
  private void provide(String type, String statement) throws IOException {
    Path source = folder.resolve(type + ".java");
    Files.writeString(source, SOURCE.formatted(type, statement));
    int status =
        ToolProvider.getSystemJavaCompiler()
            .run(
                null,
                null,
                null,
                "-cp",
                System.getProperty("java.class.path"),
                "-proc:none",
                "-d",
                classes.toString(),
                source.toString());
    assertThat(status).isEqualTo(0);
    Path services = Files.createDirectories(classes.resolve("META-INF/services"));
    Path file = services.resolve(SetProvider.class.getName());
    String before = Files.exists(file) ? Files.readString(file) : "";
    Files.writeString(file, before + "org.example.weir." + type + "\n");
  }

  /** Runs an example in this process, the user's folder being on its class path. */
  private int run(String... arguments) throws IOException {
    List<String> all = new ArrayList<>(List.of(arguments));
    if (!arguments[0].equals("speed")) {
      all.addAll(List.of("--out", folder.resolve(arguments[0]).toString()));
    }
    ClassLoader loader = Thread.currentThread().getContextClassLoader();
    PrintStream out = System.out;
    PrintStream err = System.err;
    ByteArrayOutputStream caught = new ByteArrayOutputStream();
    PrintStream both = new PrintStream(caught, true, StandardCharsets.UTF_8);
    try (URLClassLoader own = new URLClassLoader(new URL[] {classes.toUri().toURL()}, loader)) {
      Thread.currentThread().setContextClassLoader(own);
      System.setOut(both);
      System.setErr(both);
      return Examples.run(all.toArray(String[]::new));
    } finally {
      System.setOut(out);
      System.setErr(err);
      Thread.currentThread().setContextClassLoader(loader);
      said = caught.toString(StandardCharsets.UTF_8);
    }
  }

  private String classPath() {
    return System.getProperty("java.class.path") + File.pathSeparator + classes;
  }

  private void assertRuns(String... arguments) throws IOException {
    int status = run(arguments);
    assertWithMessage(said).that(status).isEqualTo(0);
  }

  private void assertFiles(String example, String... files) throws IOException {
    for (String file : files) {
      assertWithMessage(file)
          .that(Files.size(folder.resolve(example).resolve(file)))
          .isGreaterThan(0);
    }
  }

  @Test
  void quickstart_buildsItsLaneAndRow() throws IOException {
    assertRuns("quickstart", "--set", "weir", "--style", "ROM");
    assertThat(said).contains("weir_lane on ");
    assertFiles("quickstart", "verilog/weir_lane.f", "row/verilog/weir_fetch.f");
  }

  @Test
  void ia32_measuresItsCode() throws IOException {
    String image = code.toString();
    assertRuns("ia32", "--set", "weir", "--image", image, "--raw", "--style", "ROM");
    assertThat(said).contains("weir.bin read as weir code");
    assertThat(said).contains("240 instructions");
    assertThat(said).contains("the lane handles 100.00% of them");
    assertFiles("ia32", "verilog/weir_lane.f");
  }

  @Test
  void mapping_mapsItsLane() throws Exception {
    ExampleRun.Result result =
        ExampleRun.start(
                WITHOUT_TOOLS, classPath(), folder, "mapping", "--set", "weir", "--out", "mapping")
            .result();
    assertWithMessage(result.err()).that(result.status()).isEqualTo(0);
    List<String> lines = Files.readAllLines(folder.resolve("mapping/mapping.csv"));
    assertThat(lines).hasSize(3);
    assertThat(lines.get(1)).matches("weir_lane,6,.*,true");
    assertThat(lines.get(2)).matches("weir_lane,4,.*,true");
  }

  @Test
  void lanes_costsItsRows() throws IOException {
    assertRuns("lanes", "--set", "weir", "--windows", "4");
    assertThat(Files.readAllLines(folder.resolve("lanes/lanes.csv"))).hasSize(17);
    assertThat(said).containsMatch("weir_[a-z0-9_]+ in style rom");
  }

  @Test
  void fetchUnit_isBuiltAndSimulated() throws IOException {
    assertRuns(
        "fetch-unit",
        "--set=weir",
        "--capacity=256",
        "--ways=1",
        "--line=16",
        "--address=12",
        "--cycles=300");
    assertThat(said).contains("Icarus Verilog: 300 random cycles, all agree");
    assertFiles("fetch-unit", "verilog/weir_fetch_unit.f", "paths.csv");
  }

  @Test
  void study_triesItsLanes_andAdvises() throws IOException {
    String image = code.toString();
    assertRuns(
        "ia32-study", "--set=weir", "--image=" + image, "--raw", "--style=ROM", "--advise=40");
    List<String> lines = Files.readAllLines(folder.resolve("ia32-study/study.csv"));
    assertThat(said).contains("weir.bin: 240 executed");
    assertThat(lines).hasSize(11);
    assertThat(lines.get(1)).startsWith("opcode,");
    assertThat(lines.get(10)).startsWith("folded2,");
    assertThat(Files.readString(folder.resolve("ia32-study/report.html")))
        .contains("<h1>weir lanes on real code</h1>");
    assertFiles("ia32-study", "advised/verilog/weir_advised.f");
  }

  @Test
  void timing_measuresItsLane() throws IOException {
    assertRuns("timing", "--set=weir", "--style=BANKED", "--seeds=1");
    assertThat(said).containsMatch("weir +banked +plain ");
    assertThat(Files.readAllLines(folder.resolve("timing/timing.csv"))).hasSize(5);
  }

  /** In a process of its own, as the measurement starts another. */
  @Test
  void speed_measuresItsModels() throws Exception {
    ExampleRun.Result result =
        ExampleRun.start(
                WITHOUT_TOOLS, classPath(), folder, "speed", "--set", "weir", "--seconds", "0.001")
            .result();
    assertWithMessage(result.err()).that(result.status()).isEqualTo(0);
    assertThat(result.out()).contains("goldenLengths");
  }

  @Test
  void name_ofNoSet_saysWhatThereIs() throws IOException {
    String names = "[ia32, ia32_defined, reference, tidegate, weir]";
    for (String example :
        List.of(
            "quickstart",
            "ia32",
            "mapping",
            "lanes",
            "fetch-unit",
            "ia32-study",
            "timing",
            "speed")) {
      assertThat(run(example, "--set", "wear")).isEqualTo(2);
      assertThat(said)
          .isEqualTo(
              "--set: one of "
                  + names
                  + " is expected, found wear\nsee examples "
                  + example
                  + " --help\n");
    }
  }

  @Test
  void provider_twiceOrFailing_isNamed() throws IOException {
    provide("Failing", "if (true) throw new IllegalStateException(\"no boards\");");
    assertThat(run("lanes", "--set", "weir")).isEqualTo(1);
    assertThat(said)
        .isEqualTo(
            "instruction sets: a name must have one provider, found org.example.weir.Weir and"
                + " org.example.weir.Failing of weir\n");
    Files.delete(classes.resolve("META-INF/services").resolve(SetProvider.class.getName()));
    provide("Failing", "if (true) throw new IllegalStateException(\"no boards\");");
    assertThat(run("lanes", "--set", "weir")).isEqualTo(1);
    assertThat(said)
        .isEqualTo(
            "instruction sets: org.example.weir.Failing must say its instruction set, found"
                + " java.lang.IllegalStateException: no boards\n");
  }

  @Test
  void options_forIa32_areRefusedForOthers() throws IOException {
    String image = "--image=" + code;
    assertThat(run("ia32", "--set=weir", image, "--code16")).isEqualTo(2);
    assertThat(said).startsWith("--code16: must be given with the set ia32, found weir\n");
    assertThat(run("ia32", "--set=weir", image, "--with=EVEX")).isEqualTo(2);
    assertThat(said).startsWith("--with: must be given with the set ia32, found weir\n");
    assertThat(run("ia32-study", "--set=weir", image, "--code16")).isEqualTo(2);
    assertThat(said).startsWith("--code16: must be given with the set ia32, found weir\n");
    assertThat(run("ia32", "--set=weir")).isEqualTo(2);
    assertThat(said).startsWith("ia32: name the code with --image, found none\n");
    assertThat(run("ia32-study", "--set=weir")).isEqualTo(2);
    assertThat(said).startsWith("ia32-study: name the code with --image, found none\n");
    assertThat(run("mapping", "--set=weir", "--table=t")).isEqualTo(2);
    assertThat(said).startsWith("--set: must not be given with --table, found weir\n");
  }
}

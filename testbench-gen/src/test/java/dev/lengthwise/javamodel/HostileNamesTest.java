package dev.lengthwise.javamodel;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.Testbenches;
import dev.lengthwise.testbench.run.Ghdl;
import dev.lengthwise.testbench.run.IcarusVerilog;
import dev.lengthwise.testbench.run.SimulationResult;
import dev.lengthwise.testbench.run.Simulator;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.File;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * Names that could hurt are refused with a whole message, or give text that Icarus Verilog,
 * Verilator, GHDL (Debian packages iverilog, verilator, ghdl) and javac accept and that means the
 * same. Every build tries every second of the names that are taken, some of every place.
 */
@CallsTools
class HostileNamesTest {

  private static final String EMPTY = "a name must not be empty";
  private static final String LONG = "a name must have at most 64 characters";
  private static final String LETTERS =
      "a name must be lower case letters, digits and underscores, first a letter";
  private static final String UNDERSCORES =
      "a name must not have two underscores in a row or one at its end";
  private static final String RESERVED =
      "a name must not be a reserved word of Verilog, VHDL or Java";

  private static final String DEVICE = "a name of files must not be that of a device of Windows";

  @TempDir Path folder;

  /** What a name is given to; the label begins the message. */
  private enum Place {
    TABLE("table", "gate"),
    MODE("mode", "wide"),
    MAP("map", "base"),
    SPECIFIER("specifier", "place"),
    DESIGN("lane", "gate_lane");

    private final String label;
    private final String usual;

    Place(String label, String usual) {
      this.label = label;
      this.usual = usual;
    }
  }

  /** A name that is refused, and the message. */
  private record Refused(Place place, String name, String message) {

    static Refused of(Place place, String rule, String name, String quoted) {
      return new Refused(place, name, place.label + ": " + rule + ", found \"" + quoted + "\"");
    }

    static Refused of(Place place, String rule, String name) {
      return of(place, rule, name, name);
    }
  }

  static Stream<Refused> refused() {
    return Stream.of(
        Refused.of(Place.TABLE, RESERVED, "module"),
        Refused.of(Place.TABLE, RESERVED, "entity"),
        Refused.of(Place.TABLE, RESERVED, "class"),
        Refused.of(Place.TABLE, RESERVED, "interface"),
        Refused.of(Place.TABLE, RESERVED, "sealed"),
        Refused.of(Place.TABLE, RESERVED, "string"),
        Refused.of(Place.TABLE, EMPTY, ""),
        Refused.of(Place.TABLE, LETTERS, "7gates"),
        Refused.of(Place.TABLE, UNDERSCORES, "tide__gate"),
        Refused.of(Place.TABLE, UNDERSCORES, "tide_"),
        Refused.of(Place.TABLE, LETTERS, "Gate"),
        Refused.of(Place.TABLE, LONG, "a".repeat(300), "a".repeat(80) + "..."),
        Refused.of(Place.TABLE, LETTERS, "gate */ class"),
        Refused.of(Place.MODE, RESERVED, "wire"),
        Refused.of(Place.MODE, RESERVED, "signal"),
        Refused.of(Place.MODE, RESERVED, "int"),
        Refused.of(Place.MODE, RESERVED, "logic"),
        Refused.of(Place.MODE, RESERVED, "all"),
        Refused.of(Place.MODE, LETTERS, "_wide"),
        Refused.of(Place.MODE, LETTERS, "wide\nendmodule", "wide\\u000aendmodule"),
        Refused.of(Place.MODE, LETTERS, "wide\r", "wide\\u000d"),
        Refused.of(Place.MODE, LETTERS, "wide // x"),
        Refused.of(Place.MODE, LETTERS, "wide -- x"),
        Refused.of(Place.MODE, LETTERS, "w\u00e4hle", "w\\u00e4hle"),
        Refused.of(Place.MODE, LETTERS, "wi\"de", "wi\\u0022de"),
        Refused.of(Place.MODE, LETTERS, "wi\\de", "wi\\u005cde"),
        Refused.of(Place.MODE, LETTERS, "wi$de"),
        Refused.of(Place.MAP, RESERVED, "always"),
        Refused.of(Place.MAP, RESERVED, "process"),
        Refused.of(Place.MAP, LETTERS, " "),
        Refused.of(Place.MAP, LETTERS, "base\u0000", "base\\u0000"),
        Refused.of(Place.MAP, LETTERS, "\\base ", "\\u005cbase "),
        Refused.of(Place.MAP, LETTERS, "/* base"),
        Refused.of(Place.MAP, LETTERS, "BASE"),
        Refused.of(Place.MAP, LETTERS, "`define"),
        Refused.of(Place.SPECIFIER, RESERVED, "function"),
        Refused.of(Place.SPECIFIER, LONG, "x".repeat(65)),
        Refused.of(Place.SPECIFIER, LETTERS, "place\t", "place\\u0009"),
        Refused.of(Place.SPECIFIER, LETTERS, "${place}"),
        Refused.of(Place.DESIGN, RESERVED, "std_logic"),
        Refused.of(Place.DESIGN, RESERVED, "null"),
        Refused.of(Place.DESIGN, RESERVED, "work"),
        Refused.of(Place.DESIGN, LETTERS, "../../lane"),
        Refused.of(Place.DESIGN, LETTERS, "lane;"),
        Refused.of(Place.DESIGN, LETTERS, "\u202elane", "\\u202elane"),
        Refused.of(Place.DESIGN, DEVICE, "con"),
        Refused.of(Place.DESIGN, DEVICE, "lpt1"),
        Refused.of(Place.TABLE, DEVICE, "nul"),
        new Refused(
            Place.MODE,
            "beat_valid",
            "mode beat_valid: the name must not be a port of the lanes, found beat_valid"),
        new Refused(
            Place.DESIGN, "wide", "lane of gate: the name must not be that of a port, found wide"),
        new Refused(
            Place.DESIGN,
            "gate_length",
            "java model: the classes of lane and table must differ, found GateLengthModel for"
                + " both"),
        new Refused(
            Place.MODE, "code", "mode code: the name must not be a port of the lanes, found code"),
        new Refused(
            Place.MODE, "gate", "mode gate: names must differ in the RTL, found the table gate"),
        new Refused(
            Place.MAP, "wide", "map wide: names must differ in the RTL, found the mode wide"),
        new Refused(
            Place.TABLE,
            "java",
            "java model: the platform keeps package java and those inside it for itself, found"
                + " \"java\""));
  }

  @ParameterizedTest
  @MethodSource("refused")
  void name_refused_saysWhy(Refused refused) {
    RuntimeException e =
        assertThrows(
            RuntimeException.class, () -> emit(refused.place, refused.name, folder.resolve("out")));
    boolean ofWholeTable = !refused.message.contains("\"");
    assertThat(e)
        .isInstanceOf(ofWholeTable ? IllegalStateException.class : IllegalArgumentException.class);
    assertThat(e).hasMessageThat().isEqualTo(refused.message);
    assertThat(Files.exists(folder.resolve("out"))).isFalse();
  }

  /**
   * A name that is taken.
   *
   * @param meets true if a lane, a bench or a model has that name inside for itself
   */
  private record Taken(Place place, String name, boolean meets) {}

  static List<Taken> taken() {
    return Extent.oneOf(2, allTaken());
  }

  private static List<Taken> allTaken() {
    return List.of(
        new Taken(Place.TABLE, "z9", false),
        new Taken(Place.TABLE, "objects", false),
        new Taken(Place.TABLE, "object_1_2", false),
        new Taken(Place.MODE, "m".repeat(64), false),
        new Taken(Place.MODE, "wide_2", false),
        new Taken(Place.MODE, "far", true),
        new Taken(Place.MODE, "key", true),
        new Taken(Place.MODE, "bytes", true),
        new Taken(Place.MODE, "checks", true),
        new Taken(Place.MODE, "dut", true),
        new Taken(Place.MODE, "con", false),
        new Taken(Place.SPECIFIER, "map_base", true),
        new Taken(Place.MODE, "term", true),
        new Taken(Place.MODE, "modes", true),
        new Taken(Place.MODE, "word", true),
        new Taken(Place.MODE, "mismatches", true),
        new Taken(Place.MODE, "dut_length", true),
        new Taken(Place.MODE, "vectors_file", true),
        new Taken(Place.MODE, "textio", true),
        new Taken(Place.MODE, "line", true),
        new Taken(Place.MODE, "hex", true),
        new Taken(Place.MAP, "row", true),
        new Taken(Place.MAP, "ching", true),
        new Taken(Place.SPECIFIER, "added", true),
        new Taken(Place.SPECIFIER, "place_2", false),
        new Taken(Place.DESIGN, "dut", true),
        new Taken(Place.DESIGN, "sim", true),
        new Taken(Place.DESIGN, "d_0", true));
  }

  @ParameterizedTest
  @MethodSource("taken")
  void name_taken_compilesEverywhereAndChangesNothing(Taken taken) throws Exception {
    Path tree = folder.resolve("tree");
    Design design = emit(taken.place, taken.name, tree);
    for (Simulator simulator : List.of(new IcarusVerilog(), new Ghdl(Ghdl.Edition.IEEE_1993))) {
      SimulationResult result = simulator.run(tree, design.name());
      assertWithMessage(result.output()).that(result.passed()).isTrue();
      assertThat(result.output().toLowerCase(Locale.ROOT)).doesNotContain("warning");
    }
    lint(tree.resolve("verilog"), design.name());
    CompiledModel.of(new JavaModel().files(design.lane()), folder.resolve("model"));
    if (!taken.meets) {
      Path other = folder.resolve("other");
      String plain = taken.name.replaceAll("[a-z]", "q");
      emit(taken.place, plain, other);
      assertThat(code(tree)).isEqualTo(renamed(code(other), plain, taken.name));
    }
  }

  /** Emits everything for a lane whose names are the usual ones but for one. */
  private static Design emit(Place place, String name, Path tree) {
    Map<Place, String> names = new EnumMap<>(Place.class);
    for (Place each : Place.values()) {
      names.put(each, each == place ? name : each.usual);
    }
    OperandSpecifier specifier =
        OperandSpecifier.named(names.get(Place.SPECIFIER))
            .when("0xxx_xxxx", 0)
            .when("10xx_xxxx", 1)
            .when("11xx_xxxx", 2)
            .build();
    LengthTable table =
        LengthTable.named(names.get(Place.TABLE))
            .mode(names.get(Place.MODE))
            .map(
                names.get(Place.MAP),
                map -> {
                  map.rows(0x00, 0x3f).bytes(1);
                  map.rows(0x40, 0x5f).bytes(2).specifier(specifier);
                  map.rows(0x60, 0x6f).bytes(2).grows(names.get(Place.MODE), 1);
                  map.others().undefined();
                })
            .build();
    PrefixRules prefixes = PrefixRules.builder().flips(0xf0, names.get(Place.MODE)).build();
    Predecoder lane =
        Predecoder.builder(InstructionSet.of(table, prefixes, 8))
            .name(names.get(Place.DESIGN))
            .build();
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
    OutputTree.at(tree)
        .add(new Verilog())
        .add(new Vhdl())
        .add(new Testbenches(100, 1))
        .add(new JavaModel())
        .write(design);
    return design;
  }

  private void lint(Path verilog, String top) throws Exception {
    List<String> command = new ArrayList<>();
    command.addAll(List.of("verilator", "--lint-only", "-Wall", "--top-module", top));
    command.addAll(Files.readAllLines(verilog.resolve(top + ".f")));
    Path log = folder.resolve("lint.log");
    Process process;
    try {
      process =
          new ProcessBuilder(command)
              .directory(verilog.toFile())
              .redirectErrorStream(true)
              .redirectInput(new File("/dev/null"))
              .redirectOutput(log.toFile())
              .start();
    } catch (IOException e) {
      throw new AssertionError("verilator: install the Debian package verilator", e);
    }
    int status = process.waitFor();
    assertThat(Files.readString(log)).isEmpty();
    assertThat(status).isEqualTo(0);
  }

  /** Returns paths and texts of a tree, in order, without comments, whose lines break elsewhere. */
  private static List<OutputFile> code(Path tree) throws IOException {
    List<OutputFile> texts = new ArrayList<>();
    try (Stream<Path> paths = Files.walk(tree)) {
      for (Path path : paths.filter(Files::isRegularFile).sorted().toList()) {
        texts.add(
            new OutputFile(
                tree.relativize(path).toString().replace('\\', '/'),
                Files.readString(path, StandardCharsets.US_ASCII)
                    .replaceAll("(?m)^ *(//|--|/?\\*).*\\n", "")));
      }
    }
    return texts;
  }

  private static List<OutputFile> renamed(List<OutputFile> files, String from, String to) {
    return files.stream()
        .map(file -> new OutputFile(renamed(file.path(), from, to), renamed(file.text(), from, to)))
        .toList();
  }

  private static String renamed(String text, String from, String to) {
    return text.replace(from, to)
        .replace(JavaNames.camel(from), JavaNames.camel(to))
        .replace(from.toUpperCase(Locale.ROOT), to.toUpperCase(Locale.ROOT));
  }
}

package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.io.IOException;
import java.net.MalformedURLException;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.function.Executable;
import org.junit.jupiter.api.io.TempDir;

/** Instruction sets by name, with providers on the class path as a user has them. */
class NamedSetTest {

  private static final String START = NamedSetTest.class.getName() + "$";

  @TempDir Path folder;

  /** A set with a mode, a prefix, a specifier and a second map, that says no more than it must. */
  public static class Weir implements SetProvider {

    @Override
    public String name() {
      return "weir";
    }

    @Override
    public InstructionSet instructionSet() {
      OperandSpecifier place =
          OperandSpecifier.named("place")
              .when("0xxx_xxxx", 0)
              .when(ModeCondition.on("wide"), "10xx_xxxx", "xxxx_xxx0", 1)
              .when(ModeCondition.on("wide"), "10xx_xxxx", "xxxx_xxx1", 2)
              .when(ModeCondition.off("wide"), "10xx_xxxx", 1)
              .when("11xx_xxxx", 1)
              .build();
      LengthTable table =
          LengthTable.named("weir")
              .mode("wide")
              .map(
                  "base",
                  map ->
                      map.rows(0x00, 0x7f)
                          .bytes(1)
                          .rows(0x80, 0xdf)
                          .bytes(2)
                          .specifier(place)
                          .rows(0xe0, 0xe1)
                          .escape("more")
                          .others()
                          .undefined())
              .map("more", map -> map.rows(0, 9).bytes(3).grows("wide", 1).others().undefined())
              .build();
      return InstructionSet.of(table, PrefixRules.builder().flips(0xf0, "wide").most(1).build(), 8);
    }
  }

  /** Another provider of the same name. */
  public static final class Other extends Weir {}

  /** A set of which nothing varies. */
  public static final class Plain implements SetProvider {

    @Override
    public String name() {
      return "plain";
    }

    @Override
    public InstructionSet instructionSet() {
      return InstructionSet.of(
          LengthTable.named("plain").map("base", map -> map.others().bytes(2)).build(),
          PrefixRules.NONE);
    }
  }

  /** Cannot be made. */
  public static final class Unmade extends Weir {

    /** Fails. */
    public Unmade() {
      throw new UnsupportedOperationException("no weir today");
    }
  }

  /** Does not say its name. */
  public static final class Nameless extends Weir {

    @Override
    public String name() {
      return null;
    }
  }

  /** Says a name that cannot be typed as others are. */
  public static final class Loud extends Weir {

    @Override
    public String name() {
      return "My Weir";
    }
  }

  /** Fails where it describes. */
  public static final class Failing extends Weir {

    @Override
    public InstructionSet instructionSet() {
      throw new IllegalArgumentException("row 0x00: bytes must be at least 1, found 0");
    }
  }

  /** Says what is not its own. */
  public static final class Wrong extends Weir {

    @Override
    public int modes() {
      return 2;
    }

    @Override
    public Predecoder lane() {
      return Predecoder.builder(new Plain().instructionSet()).build();
    }

    @Override
    public List<Predecoder> lanes(UndefinedRows undefined) {
      return List.of();
    }
  }

  /** Runs with providers named in a folder of the class path. */
  private void with(Executable work, String... providers) throws Throwable {
    Path services = folder.resolve("META-INF/services");
    Files.createDirectories(services);
    Files.writeString(
        services.resolve(SetProvider.class.getName()), String.join("\n", providers) + "\n");
    ClassLoader before = Thread.currentThread().getContextClassLoader();
    try (URLClassLoader loader = new URLClassLoader(new URL[] {url()}, before)) {
      Thread.currentThread().setContextClassLoader(loader);
      work.execute();
    } finally {
      Thread.currentThread().setContextClassLoader(before);
    }
  }

  private URL url() throws MalformedURLException {
    return folder.toUri().toURL();
  }

  private void assertUnusable(String message, String... providers) throws Throwable {
    with(
        () ->
            assertThat(assertThrows(IllegalStateException.class, () -> NamedSet.of("ia32")))
                .hasMessageThat()
                .isEqualTo(message),
        providers);
  }

  @Test
  void of_ia32_isTheSetOfCore() {
    NamedSet set = NamedSet.of("ia32");
    assertThat(set.name()).isEqualTo("ia32");
    assertThat(set.toString()).isEqualTo("ia32");
    assertThat(set.title()).isEqualTo("IA-32");
    assertThat(set.instructionSet()).isEqualTo(Ia32.instructionSet());
    assertThat(set.modes()).isEqualTo(Ia32.MODES_32);
    assertThat(set.machines()).containsExactly(3, 6).inOrder();
    assertThat(set.lane()).isEqualTo(Predecoder.builder(Ia32.instructionSet()).build());
    assertThat(set.lanes(UndefinedRows.ANYTHING)).hasSize(14);
  }

  @Test
  void of_unknownName_saysTheNamesThereAre() throws Throwable {
    with(
        () -> {
          assertThat(NamedSet.names()).containsAtLeast("ia32", "plain", "weir").inOrder();
          IllegalArgumentException e =
              assertThrows(IllegalArgumentException.class, () -> NamedSet.of("lock"));
          assertThat(e)
              .hasMessageThat()
              .isEqualTo(
                  "instruction sets: the name must be one of " + NamedSet.names() + ", found lock");
        },
        START + "Weir",
        START + "Plain");
  }

  @Test
  void of_setOfAUser_hasAllThatItDoesNotSay() throws Throwable {
    with(
        () -> {
          NamedSet set = NamedSet.of("weir");
          assertThat(set.title()).isEqualTo("weir");
          assertThat(set.modes()).isEqualTo(0);
          assertThat(set.machines()).isEmpty();
          assertThat(set.lane()).isEqualTo(Predecoder.builder(new Weir().instructionSet()).build());
          List<Predecoder> lanes = set.lanes(UndefinedRows.NOT_HANDLED);
          assertThat(names(lanes))
              .isEqualTo(
                  "weir_opcode weir_opcode_prefix weir_opcode_maps weir_specifier"
                      + " weir_specifier_maps weir_index weir_index_maps weir_all_rows"
                      + " weir_folded1");
          assertThat(lanes.get(0).leavesOut("base", 0xe0)).isTrue();
          assertThat(lanes.get(0).leavesOut("base", 0xe1)).isTrue();
          assertThat(lanes.get(0).leavesOut("base", 0xe2)).isFalse();
          assertThat(lanes.get(0).depth()).isEqualTo(SpecifierDepth.NONE);
          assertThat(lanes.get(7).leftOut()).isEmpty();
          assertThat(lanes.get(8).mostFolded()).isEqualTo(1);
          // Where nothing varies, all rungs are one.
          assertThat(names(NamedSet.of("plain").lanes(UndefinedRows.ANYTHING)))
              .isEqualTo("plain_opcode");
        },
        START + "Weir",
        START + "Plain");
  }

  private static String names(List<Predecoder> lanes) {
    return lanes.stream().map(Predecoder::name).collect(Collectors.joining(" "));
  }

  @Test
  void of_twoProvidersOfOneName_namesBoth() throws Throwable {
    assertUnusable(
        "instruction sets: a name must have one provider, found "
            + START
            + "Weir and "
            + START
            + "Other of weir",
        START + "Weir",
        START + "Other");
  }

  @Test
  void of_providerThatCannotBeMade_namesItAndWhatItThrew() throws Throwable {
    assertUnusable(
        "instruction sets: every provider must be made, found dev.lengthwise.isa.SetProvider:"
            + " Provider "
            + START
            + "Unmade could not be instantiated:"
            + " java.lang.UnsupportedOperationException: no weir today",
        START + "Unmade");
    assertUnusable(
        "instruction sets: every provider must be made, found dev.lengthwise.isa.SetProvider:"
            + " Provider org.example.Missing not found",
        "org.example.Missing");
  }

  @Test
  void of_providerWithoutAName_isNamedByItsClass() throws Throwable {
    assertUnusable(
        "instruction sets: " + START + "Nameless must say its name, found null",
        START + "Nameless");
    assertUnusable(
        "instruction sets: "
            + START
            + "Loud must say a name of lower case letters, digits and underscores, found My Weir",
        START + "Loud");
  }

  @Test
  void of_providerThatFails_isNamedByItsClass() throws Throwable {
    with(
        () ->
            assertThat(assertThrows(IllegalStateException.class, () -> NamedSet.of("weir")))
                .hasMessageThat()
                .isEqualTo(
                    "instruction sets: "
                        + START
                        + "Failing must say its instruction set, found"
                        + " java.lang.IllegalArgumentException: row 0x00: bytes must be at least"
                        + " 1, found 0"),
        START + "Failing");
    with(
        () -> {
          NamedSet set = NamedSet.of("weir");
          assertSays("a word of 1 modes, found 0x2", set::modes);
          assertSays("lanes of its own set, found one of plain", set::lane);
          assertSays(
              "lanes with names of their own, found []", () -> set.lanes(UndefinedRows.ANYTHING));
        },
        START + "Wrong");
  }

  private static void assertSays(String end, Executable question) {
    assertThat(assertThrows(IllegalStateException.class, question))
        .hasMessageThat()
        .isEqualTo("instruction sets: " + START + "Wrong must say " + end);
  }

  /** A class path reads the file, a module path {@code provides}: a set must stand in both. */
  @Test
  void files_andModules_nameTheSameProviders() throws IOException {
    for (String module : List.of("core", "examples")) {
      Path main = Path.of("..", module, "src/main");
      String info = Files.readString(main.resolve("java/module-info.java"));
      String list =
          info.replaceAll("(?s).*provides dev.lengthwise.isa.SetProvider with(.*?);.*", "$1");
      assertWithMessage(module)
          .that(Arrays.stream(list.split(",", -1)).map(String::strip).toList())
          .containsExactlyElementsIn(
              Files.readAllLines(
                  main.resolve("resources/META-INF/services/" + SetProvider.class.getName())));
    }
  }
}

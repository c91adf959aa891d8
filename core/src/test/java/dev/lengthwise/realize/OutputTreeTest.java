package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Designs are written whole or not at all; how is {@code WholeFilesTest}'s matter. */
class OutputTreeTest {

  private static Design design;

  @TempDir Path folder;

  @BeforeAll
  static void realize() {
    LengthTable table =
        LengthTable.named("sluice").map("base", map -> map.rows(0x00, 0xff).bytes(1)).build();
    Predecoder lane =
        Predecoder.builder(InstructionSet.of(table, PrefixRules.builder().build(), 8)).build();
    design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(lane, Style.ROM);
  }

  private OutputTree tree() {
    DesignOutput output =
        d -> List.of(new OutputFile("a.v", "new a\n"), new OutputFile("sub/b.v", "new b\n"));
    return OutputTree.at(folder).add(output);
  }

  @Test
  void write_returnsWhatItWrote_andTouchesNothingElse() throws IOException {
    Files.writeString(folder.resolve("mine"), "mine");
    assertThat(tree().write(design)).containsExactly(Path.of("a.v"), Path.of("sub/b.v")).inOrder();
    assertThat(Files.readString(folder.resolve("sub/b.v"))).isEqualTo("new b\n");
    try (Stream<Path> paths = Files.walk(folder.getParent(), 1)) {
      assertThat(paths.filter(p -> p.getFileName().toString().startsWith(".lengthwise")).toList())
          .isEmpty();
    }
    assertThat(Files.readString(folder.resolve("mine"))).isEqualTo("mine");
  }

  @Test
  void write_folderAtTheLastPlace_leavesTheFirstAsItWas() throws IOException {
    Files.writeString(folder.resolve("a.v"), "old a\n");
    Files.createDirectories(folder.resolve("sub/b.v/in"));
    UncheckedIOException e = assertThrows(UncheckedIOException.class, () -> tree().write(design));
    assertThat(e)
        .hasMessageThat()
        .isEqualTo(folder.resolve("sub/b.v") + ": a regular file is expected, found a folder");
    assertThat(Files.readString(folder.resolve("a.v"))).isEqualTo("old a\n");
  }

  @Test
  void write_twoOutputsOfOneFile_isRefused() {
    DesignOutput again = d -> List.of(new OutputFile("a.v", ""));
    assertThat(assertThrows(IllegalStateException.class, () -> tree().add(again).write(design)))
        .hasMessageThat()
        .isEqualTo("output tree: two outputs must not write one file, found a.v");
  }
}

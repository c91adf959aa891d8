package dev.lengthwise.report;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaModifier;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.Slow;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** All reports have one shape, and are written alone or beside a design. */
@Slow
class ReportsTest {

  @TempDir Path folder;

  @Test
  void faces_areReports() {
    List<JavaClass> faces =
        new ClassFileImporter()
                .withImportOption(new ImportOption.DoNotIncludeTests())
                .importPackages("dev.lengthwise.report")
                .stream()
                .filter(type -> type.getModifiers().contains(JavaModifier.PUBLIC))
                .filter(type -> type.isTopLevelClass() && !type.isInterface())
                .toList();
    assertThat(faces.size()).isAtLeast(6);
    for (JavaClass face : faces) {
      assertWithMessage(face.getName()).that(face.isAssignableTo(Report.class)).isTrue();
    }
  }

  @Test
  void write_aloneAndBesideADesign_isTheSameFile() throws Exception {
    InstructionSet set =
        InstructionSet.of(
            LengthTable.named("weir").map("base", map -> map.others().bytes(2)).build(),
            PrefixRules.NONE);
    Design design =
        Realizer.on(DeviceProfile.sixInput()).realize(Predecoder.builder(set).build(), Style.ROM);
    Report table = new CostTable(List.of(design));
    assertThat(table.write(folder.resolve("alone")))
        .isEqualTo(folder.resolve("alone").resolve("cost.csv"));
    OutputTree tree = OutputTree.at(folder.resolve("tree")).add(table.file());
    assertThat(tree.write(design)).containsExactly(Path.of("cost.csv"));
    assertThat(Files.readString(folder.resolve("tree/cost.csv")))
        .isEqualTo(Files.readString(folder.resolve("alone/cost.csv")));
    assertThat(
            assertThrows(IllegalStateException.class, () -> tree.add(table.file()).write(design)))
        .hasMessageThat()
        .isEqualTo("output tree: two outputs must not write one file, found cost.csv");
  }
}

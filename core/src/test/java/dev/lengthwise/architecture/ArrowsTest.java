package dev.lengthwise.architecture;

import static com.tngtech.archunit.base.DescribedPredicate.not;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAPackage;
import static com.tngtech.archunit.core.domain.JavaClass.Predicates.resideInAnyPackage;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.classes;
import static com.tngtech.archunit.library.dependencies.SlicesRuleDefinition.slices;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.conditions.ArchConditions;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestFactory;

/** Holds the arrows between packages: each may use those named here, and no other of ours. */
class ArrowsTest {

  private static final String ROOT = "dev.lengthwise.";

  private static final JavaClasses CLASSES =
      new ClassFileImporter()
          .withImportOption(new ImportOption.DoNotIncludeTests())
          .importPackages("dev.lengthwise");

  private static final Map<String, List<String>> ARROWS = new LinkedHashMap<>();

  static {
    ARROWS.put("name", List.of());
    ARROWS.put("work", List.of());
    ARROWS.put("logic", List.of("work"));
    ARROWS.put("device", List.of());
    ARROWS.put("file", List.of());
    ARROWS.put("stream", List.of("file", "work"));
    ARROWS.put("table", List.of("name"));
    ARROWS.put("circuit", List.of("name"));
    ARROWS.put("isa", List.of("table"));
    ARROWS.put("golden", List.of("table"));
    ARROWS.put("predecode", List.of("golden", "table", "name", "work"));
    ARROWS.put("cache", List.of("predecode", "golden", "table", "name", "device"));
    ARROWS.put(
        "realize",
        List.of(
            "name",
            "table",
            "golden",
            "predecode",
            "cache",
            "device",
            "logic",
            "circuit",
            "file",
            "work"));
    ARROWS.put(
        "study",
        List.of(
            "realize",
            "stream",
            "golden",
            "predecode",
            "table",
            "device",
            "cache",
            "logic",
            "name",
            "file",
            "work"));
    ARROWS.put(
        "report",
        List.of("study", "realize", "predecode", "cache", "circuit", "device", "logic", "file"));
  }

  @TestFactory
  Stream<DynamicTest> package_usesOnlyItsArrows() {
    return ARROWS.entrySet().stream()
        .map(
            entry ->
                DynamicTest.dynamicTest(
                    entry.getKey(), () -> checkArrows(entry.getKey(), entry.getValue())));
  }

  private static void checkArrows(String name, List<String> targets) {
    List<String> allowed = new ArrayList<>(List.of(ROOT + name + ".."));
    targets.forEach(target -> allowed.add(ROOT + target + ".."));
    classes()
        .that(resideInAPackage(ROOT + name + ".."))
        .should()
        .onlyDependOnClassesThat(
            resideInAnyPackage(allowed.toArray(String[]::new))
                .or(not(resideInAPackage("dev.lengthwise.."))))
        .allowEmptyShould(true)
        .check(CLASSES);
  }

  @Test
  void packages_haveNoCycles() {
    slices().matching("dev.lengthwise.(*)..").should().beFreeOfCycles().check(CLASSES);
  }

  @Test
  void packages_areAllNamedHere() {
    classes()
        .should(
            ArchConditions.be(
                new DescribedPredicate<JavaClass>("in a package that this test names") {
                  @Override
                  public boolean test(JavaClass type) {
                    String rest = type.getPackageName().substring(ROOT.length());
                    return ARROWS.containsKey(rest.replaceAll("\\..*", ""));
                  }
                }))
        .check(CLASSES);
  }
}

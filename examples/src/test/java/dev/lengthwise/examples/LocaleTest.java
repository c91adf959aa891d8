package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.noClasses;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.AccessTarget.CodeUnitCallTarget;
import com.tngtech.archunit.core.domain.JavaCall;
import com.tngtech.archunit.core.domain.JavaClass;
import com.tngtech.archunit.core.domain.JavaClasses;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import com.tngtech.archunit.lang.ArchRule;
import com.tngtech.archunit.lang.EvaluationResult;
import dev.lengthwise.testing.Slow;
import java.io.PrintStream;
import java.text.DecimalFormat;
import java.text.Format;
import java.text.MessageFormat;
import java.text.NumberFormat;
import java.time.format.DateTimeFormatter;
import java.util.Formatter;
import java.util.List;
import java.util.Locale;
import java.util.Scanner;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/**
 * No class of any module writes or reads a number, or changes the case of a text, by the locale of
 * the machine: where digits are not ASCII, what is emitted would be another text.
 */
@Slow
class LocaleTest {

  private static final Set<String> FORMATS = Set.of("format", "formatted", "printf");
  private static final Set<String> CASES = Set.of("toLowerCase", "toUpperCase");

  private static final ArchRule RULE =
      noClasses()
          .should()
          .callCodeUnitWhere(
              new DescribedPredicate<JavaCall<?>>("it depends on the machine's locale") {
                @Override
                public boolean test(JavaCall<?> call) {
                  return readsTheLocale(call.getTarget());
                }
              });

  private static final JavaClasses CLASSES =
      new ClassFileImporter()
          .withImportOption(new ImportOption.DoNotIncludeTests())
          .importPackages("dev.lengthwise");

  /** A call of the platform whose result depends on the locale unless it is given one. */
  private static boolean readsTheLocale(CodeUnitCallTarget target) {
    JavaClass owner = target.getOwner();
    boolean takesOne =
        target.getRawParameterTypes().stream().anyMatch(type -> type.isEquivalentTo(Locale.class));
    if (takesOne || !owner.getPackageName().startsWith("java.")) {
      return false;
    }
    String name = target.getName();
    boolean made = name.equals("<init>") || name.startsWith("get") || name.startsWith("of");
    boolean format = owner.isAssignableTo(Format.class);
    return owner.isEquivalentTo(Scanner.class)
        || (owner.isEquivalentTo(Locale.class) && name.equals("getDefault"))
        || (FORMATS.contains(name) && (!format || owner.isEquivalentTo(MessageFormat.class)))
        || (CASES.contains(name) && owner.isEquivalentTo(String.class))
        || (made
            && (format
                || owner.isEquivalentTo(Formatter.class)
                || owner.isEquivalentTo(DateTimeFormatter.class)));
  }

  @Test
  void classes_formatWithALocaleOnly() {
    RULE.check(CLASSES);
  }

  @Test
  void classes_areThoseOfEveryModule() {
    Set<String> packages =
        CLASSES.stream()
            .map(type -> type.getPackageName().replaceAll("^dev\\.lengthwise\\.(\\w+).*", "$1"))
            .collect(Collectors.toSet());
    assertThat(packages)
        .containsAtLeast("circuit", "study", "verilog", "vhdl", "testbench", "examples");
  }

  @Test
  void rule_findsEachWayToForgetTheLocale() {
    EvaluationResult result = RULE.evaluate(new ClassFileImporter().importClasses(Careless.class));
    assertThat(
            result.getFailureReport().getDetails().stream()
                .map(line -> line.replaceAll(".*calls (?:method|constructor) <(.*?)\\(.*", "$1"))
                .map(call -> call.replaceAll("java\\.(lang|util|text|io|time\\.format)\\.", "")))
        .containsExactly(
            "String.format",
            "String.formatted",
            "String.toLowerCase",
            "String.toUpperCase",
            "PrintStream.printf",
            "PrintStream.format",
            "Formatter.<init>",
            "Scanner.<init>",
            "DecimalFormat.<init>",
            "NumberFormat.getInstance",
            "MessageFormat.format",
            "DateTimeFormatter.ofPattern",
            "Locale.getDefault");
  }

  /** Every call here is one that the rule forbids. */
  @SuppressWarnings({"unused", "StringCaseLocaleUsage", "AnnotateFormatMethod"})
  private static final class Careless {

    private Careless() {}

    static List<Object> calls(PrintStream out, String text) {
      return List.of(
          String.format("%d", 1),
          "%d".formatted(1),
          text.toLowerCase(),
          text.toUpperCase(),
          out.printf("%d", 1),
          out.format("%d", 1),
          new Formatter(),
          new Scanner(text),
          new DecimalFormat("0"),
          NumberFormat.getInstance(),
          MessageFormat.format("{0}", 1),
          DateTimeFormatter.ofPattern("y"),
          Locale.getDefault());
    }
  }
}

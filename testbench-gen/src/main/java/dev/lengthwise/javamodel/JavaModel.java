package dev.lengthwise.javamodel;

import com.palantir.javapoet.JavaFile;
import com.palantir.javapoet.TypeSpec;
import dev.lengthwise.circuit.OutputFile;
import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.DesignOutput;
import dev.lengthwise.table.InstructionSet;
import java.util.List;
import java.util.Optional;
import javax.lang.model.SourceVersion;

/**
 * Prints the Java reference model of a design, for Java 17.
 *
 * <p>Files: {@code java/<package>/<Table>LengthModel.java} with the true lengths, and {@code
 * java/<package>/<Lane>Model.java} with what the lane says. A name in lower snake case becomes one
 * in camel case; a lane called {@code x_lane} has the class {@code XLaneModel}.
 */
public final class JavaModel implements DesignOutput {

  private final Optional<String> packageName;

  /** Prints classes of the package that is called as the instruction set's table. */
  public JavaModel() {
    this.packageName = Optional.empty();
  }

  /**
   * Prints classes of a package.
   *
   * @param packageName the package's full name
   * @throws IllegalArgumentException if it is no name of a package, in ASCII letters, digits and
   *     underscores, that programs may use and whose folders Windows can make
   */
  public JavaModel(String packageName) {
    this.packageName = Optional.of(requirePackage(packageName));
  }

  private static String requirePackage(String name) {
    if (!name.matches("[A-Za-z0-9_.]+") || !SourceVersion.isName(name)) {
      throw new IllegalArgumentException(
          "java model: a package name in ASCII is expected, found " + HdlName.quote(name));
    }
    if (name.equals("java") || name.startsWith("java.")) {
      throw new IllegalArgumentException(
          "java model: the platform keeps package java and those inside it for itself, found "
              + HdlName.quote(name));
    }
    for (String part : name.split("\\.", -1)) {
      if (HdlName.isDevice(part)) {
        throw new IllegalArgumentException(
            "java model: no part of a package's name must be a device of Windows, found "
                + HdlName.quote(name));
      }
    }
    return name;
  }

  /**
   * Prints the model of a design.
   *
   * @param design the design
   * @return the length model, then the lane model
   * @throws IllegalArgumentException if the table's name is no package that programs may use, and
   *     the user gave none
   * @throws IllegalStateException if the lane's name makes the class of the table
   */
  @Override
  public List<OutputFile> files(Design design) {
    return files(design.lane());
  }

  /** Prints the model of a lane, for which no circuit is needed. */
  List<OutputFile> files(Predecoder lane) {
    InstructionSet set = lane.instructionSet();
    String name = packageName.orElseGet(() -> requirePackage(set.table().name()));
    if (JavaNames.laneModel(lane.name()).equals(JavaNames.lengthModel(set.table().name()))) {
      throw new IllegalStateException(
          "java model: the classes of lane and table must differ, found "
              + JavaNames.laneModel(lane.name())
              + " for both");
    }
    return List.of(file(name, LengthModelType.of(set)), file(name, LaneModelType.of(lane)));
  }

  private static OutputFile file(String packageName, TypeSpec type) {
    String text =
        JavaFile.builder(packageName, type)
            .indent("  ")
            .skipJavaLangImports(true)
            .build()
            .toString()
            .replaceAll("(?m) +$", "");
    return new OutputFile(
        "java/" + packageName.replace('.', '/') + '/' + type.name() + ".java", text);
  }
}

package dev.lengthwise.javamodel;

import com.palantir.javapoet.CodeBlock;
import com.palantir.javapoet.MethodSpec;
import com.palantir.javapoet.TypeSpec;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import javax.lang.model.element.Modifier;

/** Writes the lane model: what one lane says of a window of bytes. */
final class LaneModelType {

  private final Predecoder lane;
  private final InstructionSet set;
  private final TypeSpec.Builder type;
  private final List<ModelRow.MapKey> firstMaps = new ArrayList<>();

  private LaneModelType(Predecoder lane) {
    this.lane = lane;
    this.set = lane.instructionSet();
    this.type = TypeSpec.classBuilder(JavaNames.laneModel(lane.name()));
  }

  static TypeSpec of(Predecoder lane) {
    return new LaneModelType(lane).build();
  }

  private TypeSpec build() {
    type.addModifiers(Modifier.PUBLIC, Modifier.FINAL).addJavadoc(javadoc());
    List<ModelMap> maps = new ArrayList<>();
    for (int prefixes = 0; prefixes <= lane.mostFolded(); prefixes++) {
      firstMaps.add(new ModelRow.MapKey(set.table().maps().get(0).name(), prefixes));
      maps.addAll(LaneRows.of(lane, prefixes));
    }
    TableCode code = new TableCode(type, set.table(), maps, Reading.PADDED);
    code.writeModes();
    writeConstants(code);
    type.addMethod(MethodSpec.constructorBuilder().addModifiers(Modifier.PRIVATE).build());
    type.addMethod(entry(code));
    if (lane.mostFolded() > 0) {
      type.addMethod(mostFolded());
      type.addMethod(
          PrefixCode.afterPrefix(
              set,
              lane.prefixes().keySet().stream()
                  .filter(prefix -> lane.prefixes().get(prefix).most() > 0)
                  .toList()));
      type.addMethod(behindPrefixes(code));
    }
    code.write();
    type.addMethod(byteAt());
    return type.build();
  }

  private CodeBlock javadoc() {
    CodeBlock.Builder text = CodeBlock.builder();
    text.add(
        """
        What lane $L of $L says: a length, or 0 where the slow path must decide.

        <p>Written from the description of the lane; uses no library. The lane sees its own byte
        and $L after it, says lengths of up to $L bytes, and follows the bytes after an opcode
        to depth $L. Each opcode map has a letter for each opcode, and {@code row} says what a
        letter means.
        """,
        lane.name(),
        set.table().name(),
        lane.lookahead(),
        lane.longest(),
        lane.depth());
    if (!lane.leftOut().isEmpty()) {
      text.add("\n<p>Left to the slow path:\n\n<ul>\n");
      lane.leftOut().forEach(rows -> text.add("  <li>$L\n", rows));
      text.add("</ul>\n");
    }
    return text.build();
  }

  private void writeConstants(TableCode code) {
    Constants constants = new Constants(type);
    constants.isPublic(
        "LOOKAHEAD", lane.lookahead(), "The bytes after its own that the lane sees.");
    constants.isPublic("LONGEST", longest(), "The longest length that the lane says, in bytes.");
    constants.isPublic("NOT_HANDLED", 0, "What the lane says where the slow path must decide.");
    if (lane.undefinedRows() == UndefinedRows.ANYTHING) {
      constants.isPublic(
          "ANYTHING", -1, "Stands for undefined opcodes, where the circuit may say any length.");
    }
    if (code.isEverUndecided()) {
      constants.isPrivate("NOT_DECIDED", -1);
    }
    if (lane.mostFolded() > 0) {
      constants.isPrivate("NOT_A_PREFIX", -1);
    }
  }

  private int longest() {
    return Math.min(lane.longest(), set.longest());
  }

  private MethodSpec entry(TableCode code) {
    MethodSpec.Builder method =
        MethodSpec.methodBuilder("lengthAt")
            .addModifiers(Modifier.PUBLIC, Modifier.STATIC)
            .returns(int.class)
            .addJavadoc(
                """
                Returns what the lane says of the bytes from an offset on.

                @param modes the modes at the lane's inputs, a word of the MODE bits
                @param memory the bytes; those past the end read as 0
                @param offset where the lane's own byte is, at least 0
                @return a length in [1, {@value #LONGEST}], or {@link #NOT_HANDLED}$L
                @throws IllegalArgumentException if there is no such mode
                @throws IndexOutOfBoundsException if the offset is negative
                """,
                lane.undefinedRows() == UndefinedRows.ANYTHING ? ", or {@link #ANYTHING}" : "")
            .addParameter(int.class, "modes")
            .addParameter(byte[].class, "memory")
            .addParameter(int.class, "offset");
    code.checkModes(method);
    method
        .beginControlFlow("if (offset < 0)")
        .addCode(
            "throw new $T(\n$>$>$S\n+ $S + offset);\n$<$<",
            IndexOutOfBoundsException.class,
            "lane " + lane.name() + ": ",
            "an offset must be at least 0, found ")
        .endControlFlow();
    if (lane.mostFolded() == 0) {
      method.addStatement("int length = $L", code.lookup(firstMaps.get(0), "offset"));
      return method.addStatement("return length > LONGEST ? NOT_HANDLED : length").build();
    }
    int unit = set.table().unit().bytes();
    method.addStatement("int current = modes");
    method.addStatement("int cursor = offset");
    method.addStatement("int prefixes = 0");
    method.beginControlFlow("while (cursor - offset + $L <= 1 + LOOKAHEAD)", unit);
    method.addStatement("int code = codeAt(memory, cursor)");
    method.beginControlFlow("if (prefixes >= mostFolded(code))");
    method.addStatement("int length = behindPrefixes(prefixes, memory, cursor, current)");
    method.beginControlFlow("if (length <= 0)").addStatement("return length").endControlFlow();
    method.addStatement("length += cursor - offset");
    method.addStatement("return length > LONGEST ? NOT_HANDLED : length");
    method.endControlFlow();
    method.addStatement("current = afterPrefix(code, modes, current)");
    method.addStatement("cursor += $L", unit);
    method.addStatement("prefixes++");
    method.endControlFlow();
    return method.addStatement("return NOT_HANDLED").build();
  }

  private MethodSpec mostFolded() {
    Map<Integer, List<Integer>> codesOfMost = new TreeMap<>();
    lane.prefixes()
        .forEach(
            (prefix, treatment) -> {
              int most = Math.min(treatment.most(), lane.mostFolded());
              if (most > 0) {
                codesOfMost.computeIfAbsent(most, m -> new ArrayList<>()).add(prefix);
              }
            });
    MethodSpec.Builder method =
        MethodSpec.methodBuilder("mostFolded")
            .addModifiers(Modifier.PRIVATE, Modifier.STATIC)
            .returns(int.class)
            .addJavadoc(
                "Returns how many prefixes the lane looks through if the last is {@code code}.\n")
            .addParameter(int.class, "code")
            .addCode("return switch (code) {\n$>");
    codesOfMost.forEach(
        (most, codes) -> method.addCode("case $L -> $L;\n", PrefixCode.list(codes, set), most));
    return method.addCode("default -> 0;\n$<};\n").build();
  }

  private MethodSpec behindPrefixes(TableCode code) {
    MethodSpec.Builder method =
        MethodSpec.methodBuilder("behindPrefixes")
            .addModifiers(Modifier.PRIVATE, Modifier.STATIC)
            .returns(int.class)
            .addJavadoc("Looks up the opcode behind a number of prefixes.\n")
            .addParameter(int.class, "prefixes")
            .addParameter(byte[].class, "memory")
            .addParameter(int.class, "at")
            .addParameter(int.class, "modes")
            .addCode("return switch (prefixes) {\n$>");
    for (int prefixes = 0; prefixes < firstMaps.size(); prefixes++) {
      method.addCode("case $L -> $L;\n", prefixes, code.lookup(firstMaps.get(prefixes), "at"));
    }
    return method
        .addCode("default -> throw new $T(prefixes);\n$<};\n", AssertionError.class)
        .build();
  }

  private static MethodSpec byteAt() {
    return MethodSpec.methodBuilder("byteAt")
        .addModifiers(Modifier.PRIVATE, Modifier.STATIC)
        .returns(int.class)
        .addParameter(byte[].class, "memory")
        .addParameter(int.class, "at")
        .addStatement(
            "return $T.compareUnsigned(at, memory.length) < 0 ? memory[at] & 0xff : 0",
            Integer.class)
        .build();
  }
}

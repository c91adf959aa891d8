package dev.lengthwise.javamodel;

import com.palantir.javapoet.CodeBlock;
import com.palantir.javapoet.MethodSpec;
import com.palantir.javapoet.TypeSpec;
import dev.lengthwise.table.InstructionSet;
import javax.lang.model.element.Modifier;

/** Writes the length model: the true lengths of an instruction set. */
final class LengthModelType {

  private static final String ENTRY_JAVADOC =
      """
      Returns the length of the instruction at an offset.

      @param modes the modes before the first prefix, a word of the MODE bits
      @param memory the bytes
      @param offset where the instruction starts, in [0, end]
      @param end where the bytes given end, in [0, memory.length]
      @return the length in bytes, prefixes counted, in [1, {@value #LONGEST}]; or, not positive,
          {@link #UNDEFINED}, {@link #TOO_FEW_BYTES}, {@link #TOO_MANY_PREFIXES} or {@link #TOO_LONG}
      @throws IllegalArgumentException if there is no such mode
      @throws IndexOutOfBoundsException if the offset or the end is out of range
      """;

  private final InstructionSet set;
  private final TypeSpec.Builder type;
  private final boolean hasPrefixes;

  private LengthModelType(InstructionSet set) {
    this.set = set;
    this.type = TypeSpec.classBuilder(JavaNames.lengthModel(set.table().name()));
    this.hasPrefixes = !set.prefixes().prefixes().isEmpty();
  }

  static TypeSpec of(InstructionSet set) {
    return new LengthModelType(set).build();
  }

  private TypeSpec build() {
    type.addModifiers(Modifier.PUBLIC, Modifier.FINAL)
        .addJavadoc(
            """
            The true lengths of the instructions of $L.

            <p>Written from the description of the instruction set; uses no library. Each opcode map has
            a letter for each opcode, and {@code row} says what a letter means; equal rows of all maps
            share a letter.
            """,
            set.table().name());
    TableCode code = new TableCode(type, set.table(), TruthRows.of(set), Reading.BOUNDED);
    code.writeModes();
    writeConstants();
    type.addMethod(MethodSpec.constructorBuilder().addModifiers(Modifier.PRIVATE).build());
    type.addMethod(entry(code));
    if (hasPrefixes) {
      type.addMethod(PrefixCode.afterPrefix(set, set.prefixes().prefixes().keySet()));
    }
    code.write();
    return type.build();
  }

  private void writeConstants() {
    Constants constants = new Constants(type);
    constants.isPublic(
        "LONGEST", set.longest(), "The longest legal instruction, prefixes counted, in bytes.");
    constants.isPublic(
        "MOST_PREFIXES",
        hasPrefixes ? set.prefixes().most() : 0,
        "The most prefixes that may stand before an opcode.");
    constants.isPublic("UNDEFINED", 0, "The outcome where no map defines the opcode.");
    constants.isPublic(
        "TOO_FEW_BYTES", -1, "The outcome where the instruction goes on past the last byte.");
    constants.isPublic(
        "TOO_MANY_PREFIXES", -2, "The outcome behind more than {@value #MOST_PREFIXES} prefixes.");
    constants.isPublic(
        "TOO_LONG",
        -3,
        "The outcome where the instruction is longer than {@value #LONGEST} bytes.");
    if (hasPrefixes) {
      constants.isPrivate("NOT_A_PREFIX", -1);
    }
  }

  private MethodSpec entry(TableCode code) {
    MethodSpec.Builder method =
        MethodSpec.methodBuilder("lengthAt")
            .addModifiers(Modifier.PUBLIC, Modifier.STATIC)
            .returns(int.class)
            .addJavadoc(ENTRY_JAVADOC)
            .addParameter(int.class, "modes")
            .addParameter(byte[].class, "memory")
            .addParameter(int.class, "offset")
            .addParameter(int.class, "end");
    code.checkModes(method);
    checkRange(method);
    if (hasPrefixes) {
      writePrefixes(method, code);
    } else {
      method.addStatement("int length = $L", lookup(code, "offset"));
      method.beginControlFlow("if (length <= 0)").addStatement("return length").endControlFlow();
    }
    return method
        .beginControlFlow("if (length > LONGEST)")
        .addStatement("return TOO_LONG")
        .endControlFlow()
        .addStatement("return length > end - offset ? TOO_FEW_BYTES : length")
        .build();
  }

  private void checkRange(MethodSpec.Builder method) {
    method
        .beginControlFlow("if ((offset | end - offset | memory.length - end) < 0)")
        .addCode(
            "throw new $T(\n$>$>$S\n+ $S\n+ memory.length\n+ $S + offset + $S + end);\n$<$<",
            IndexOutOfBoundsException.class,
            "bytes for " + set.table().name() + ": ",
            "offset and end must ascend in [0, ",
            "], found ",
            " and ")
        .endControlFlow();
  }

  private CodeBlock lookup(TableCode code, String place) {
    String first = set.table().maps().get(0).name();
    return code.lookup(new ModelRow.MapKey(first, 0), place);
  }

  private void writePrefixes(MethodSpec.Builder method, TableCode code) {
    int unit = set.table().unit().bytes();
    method.addStatement("int current = modes");
    method.addStatement("int cursor = offset");
    method.addStatement("int prefixes = 0");
    method.beginControlFlow("while (true)");
    method
        .beginControlFlow("if (cursor - offset >= LONGEST)")
        .addStatement("return TOO_LONG")
        .endControlFlow();
    method
        .beginControlFlow("if (end - cursor < $L)", unit)
        .addStatement("return TOO_FEW_BYTES")
        .endControlFlow();
    method.addStatement("int after = afterPrefix(codeAt(memory, cursor), modes, current)");
    method.beginControlFlow("if (after == NOT_A_PREFIX)").addStatement("break").endControlFlow();
    method
        .beginControlFlow("if (++prefixes > MOST_PREFIXES)")
        .addStatement("return TOO_MANY_PREFIXES")
        .endControlFlow();
    method.addStatement("current = after");
    method.addStatement("cursor += $L", unit);
    method.endControlFlow();
    String call = lookup(code, "cursor").toString().replace("modes)", "current)");
    method.addStatement("int length = $L", call);
    method.beginControlFlow("if (length <= 0)").addStatement("return length").endControlFlow();
    method.addStatement("length += cursor - offset");
  }
}

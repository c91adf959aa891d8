package dev.lengthwise.javamodel;

import com.palantir.javapoet.CodeBlock;
import com.palantir.javapoet.MethodSpec;
import com.palantir.javapoet.NameAllocator;
import com.palantir.javapoet.TypeSpec;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.LengthTable;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import javax.lang.model.element.Modifier;

/** Writes the part that both models have: modes, maps, the meaning of rows, specifiers. */
final class TableCode {

  /** Text in one switch; it is longer than the bytecode, of which a method has up to 65535. */
  private static final int MOST_TEXT = 40_000;

  /** Characters of a text in one line; no word of a message is longer. */
  private static final int MOST_IN_LINE = 76;

  private final TypeSpec.Builder type;
  private final LengthTable table;
  private final List<ModelMap> maps;
  private final Reading reading;
  private final RowLetters letters;
  private final ModeText modeText;
  private final NameAllocator constants = new NameAllocator();
  private final NameAllocator methods = new NameAllocator();
  private final Map<ModelRow.ByNextByte, String> splits = new HashMap<>();
  private final List<ModelSpecifier> specifiers = new ArrayList<>();

  TableCode(TypeSpec.Builder type, LengthTable table, List<ModelMap> maps, Reading reading) {
    this.type = type;
    this.table = table;
    this.maps = maps;
    this.reading = reading;
    this.letters = new RowLetters(maps);
    this.modeText = new ModeText(table.modes());
    for (ModelMap map : maps) {
      constants.newName(JavaNames.constant("MAP", label(map.key())), map.key());
      methods.newName("map" + JavaNames.camel(label(map.key())), map.key());
    }
    letters.letters().keySet().forEach(this::collectSpecifier);
  }

  /** Adds a public constant for each mode, and one for all. */
  void writeModes() {
    Constants all = new Constants(type);
    for (int i = 0; i < table.modes().size(); i++) {
      String mode = table.modes().get(i);
      all.isPublic(
          JavaNames.mode(mode), "1 << " + i, "The bit of mode " + mode + " in a mode word.");
    }
    all.isPrivate("ALL_MODES", ModeText.word(table.modes()));
  }

  /** Adds fields and methods; {@link #lookup} names the way in. */
  void write() {
    maps.stream().filter(map -> !map.isEmpty()).forEach(this::writeFields);
    type.addMethod(codeAt());
    maps.forEach(map -> type.addMethod(mapMethod(map)));
    writeRows();
    specifiers.forEach(specifier -> type.addMethod(specifierMethod(specifier)));
    if (isEverUndecided()) {
      type.addMethod(plus());
    }
    if (table.unit() != CodeUnit.BYTE) {
      type.addMethod(MapField.matching());
    }
  }

  /** Returns a text as constants in lines that are short enough. */
  private static CodeBlock lines(String text) {
    CodeBlock.Builder code = CodeBlock.builder();
    int from = 0;
    while (text.length() - from > MOST_IN_LINE) {
      int to = text.lastIndexOf(' ', from + MOST_IN_LINE) + 1;
      code.add("$S\n+ ", text.substring(from, to));
      from = to;
    }
    return code.add("$S", text.substring(from)).build();
  }

  /** Adds the check of a mode word to a method. */
  void checkModes(MethodSpec.Builder method) {
    method
        .beginControlFlow("if ((modes & ~ALL_MODES) != 0)")
        .addCode("throw new $T(\n$>$>", IllegalArgumentException.class)
        .addCode(lines(table.modesRule() + ", found 0x"))
        .addCode("\n+ $T.toHexString(modes));\n$<$<", Integer.class)
        .endControlFlow();
  }

  /** Returns the call that looks up an opcode of a map. */
  CodeBlock lookup(ModelRow.MapKey key, String place) {
    return CodeBlock.of("$L($L)", methods.get(key), reading.arguments(place));
  }

  /** Tells whether a specifier can leave the model without an answer. */
  boolean isEverUndecided() {
    return reading == Reading.BOUNDED && !specifiers.isEmpty()
        || specifiers.stream().anyMatch(s -> s.isEverUndecided(table.modes()));
  }

  private static String label(ModelRow.MapKey key) {
    return key.prefixes() == 0 ? key.map() : key.map() + "_behind" + key.prefixes();
  }

  private void collectSpecifier(ModelRow row) {
    if (row instanceof ModelRow.Length length && length.specifier().isPresent()) {
      ModelSpecifier specifier = length.specifier().get();
      if (!specifiers.contains(specifier)) {
        specifiers.add(specifier);
        methods.newName("specifier" + JavaNames.camel(specifier.specifier().name()), specifier);
      }
    }
  }

  private void writeFields(ModelMap map) {
    String field = constants.get(map.key());
    String text = letters.letters(map.rows());
    if (table.unit() == CodeUnit.BYTE) {
      type.addField(
          MapField.picture(
              field,
              text,
              CodeBlock.of(
                  "Map $L$L. The row of each opcode, high digit down, low digit across.\n",
                  map.key().map(),
                  behind(map.key()))));
    } else {
      MapField.addWords(
          type, field, "rows" + JavaNames.camel(label(map.key())), map.source(), text);
    }
    for (int code = 0; code < map.rows().size(); code++) {
      if (map.rows().get(code) instanceof ModelRow.ByNextByte split && !splits.containsKey(split)) {
        String digits = table.unit() == CodeUnit.BYTE ? "%02X" : "%04X";
        String hex = String.format(Locale.ROOT, digits, code);
        String name = constants.newName("AFTER_" + field.substring(4) + "_" + hex);
        splits.put(split, name);
        type.addField(
            MapField.picture(
                name,
                letters.letters(split.rows()),
                CodeBlock.of(
                    "The row by the byte after opcode 0x$L of map $L.\n",
                    hex.toLowerCase(Locale.ROOT),
                    map.key().map())));
      }
    }
  }

  private static String behind(ModelRow.MapKey key) {
    return key.prefixes() == 0 ? "" : " behind prefixes: " + key.prefixes();
  }

  private MethodSpec.Builder helper(String name, Class<?> result) {
    return MethodSpec.methodBuilder(name)
        .addModifiers(Modifier.PRIVATE, Modifier.STATIC)
        .returns(result);
  }

  private MethodSpec.Builder reader(String name, String place) {
    MethodSpec.Builder method = helper(name, int.class).addParameter(byte[].class, "memory");
    method.addParameter(int.class, place);
    if (reading == Reading.BOUNDED) {
      method.addParameter(int.class, "end");
    }
    return method.addParameter(int.class, "modes");
  }

  private MethodSpec codeAt() {
    MethodSpec.Builder method =
        helper("codeAt", int.class)
            .addParameter(byte[].class, "memory")
            .addParameter(int.class, "at");
    String low = reading == Reading.BOUNDED ? "memory[at] & 0xff" : "byteAt(memory, at)";
    String high = reading == Reading.BOUNDED ? "(memory[at + 1] & 0xff)" : "byteAt(memory, at + 1)";
    String text =
        switch (table.unit()) {
          case BYTE -> low;
          case WORD_LITTLE_ENDIAN -> low + " | " + high + " << 8";
          case WORD_BIG_ENDIAN -> "(" + low + ") << 8 | " + high;
        };
    return method.addStatement("return $L", text).build();
  }

  private MethodSpec mapMethod(ModelMap map) {
    MethodSpec.Builder method = reader(methods.get(map.key()), "at");
    method.addJavadoc(
        "Looks up the opcode of map $L that starts at {@code at}.\n", map.key().map());
    if (map.isEmpty()) {
      return method.addStatement("return $L", reading.none()).build();
    }
    int unit = table.unit().bytes();
    if (reading == Reading.BOUNDED) {
      method.beginControlFlow("if (end - at < $L)", unit);
      method.addStatement("return $L", reading.undecided());
      method.endControlFlow();
    }
    method.addStatement("int next = at + $L", unit);
    String lookup = table.unit() == CodeUnit.BYTE ? ".charAt(codeAt(memory, at))" : "";
    String index = table.unit() == CodeUnit.BYTE ? "" : "[codeAt(memory, at)]";
    method.addStatement(
        "return row($L$L$L, $L)",
        constants.get(map.key()),
        lookup,
        index,
        reading.arguments("next"));
    return method.build();
  }

  private void writeRows() {
    MethodSpec.Builder method = rowMethod("row");
    method.addJavadoc(
        "Returns what a row says; {@code next} is the place of the byte after the opcode.\n");
    int part = 1;
    int text = 0;
    for (Map.Entry<ModelRow, Character> entry : letters.letters().entrySet()) {
      if (text > MOST_TEXT) {
        String more = "row" + ++part;
        method.addCode("default -> $L(row, $L);\n", more, reading.arguments("next"));
        type.addMethod(method.addCode("$<};\n").build());
        method = rowMethod(more);
        text = 0;
      }
      String letter = RowLetters.source(entry.getValue().toString());
      CodeBlock meaning = meaning(entry.getKey());
      method.addCode("case '$L' -> $L;\n", letter, meaning);
      text += meaning.toString().length();
    }
    method.addCode("default -> throw new $T(row);\n", AssertionError.class);
    type.addMethod(method.addCode("$<};\n").build());
  }

  private MethodSpec.Builder rowMethod(String name) {
    MethodSpec.Builder method = helper(name, int.class).addParameter(char.class, "row");
    reader(name, "next").build().parameters().forEach(method::addParameter);
    return method.addCode("return switch (row) {\n$>");
  }

  private CodeBlock meaning(ModelRow row) {
    if (row instanceof ModelRow.Length length) {
      return meaning(length);
    }
    if (row instanceof ModelRow.Escape escape) {
      return lookup(escape.target(), escape.skip() == 0 ? "next" : "next + " + escape.skip());
    }
    if (row instanceof ModelRow.ByNextByte split) {
      String picture = splits.get(split);
      return reading == Reading.BOUNDED
          ? CodeBlock.of(
              "next < end\n$>$>? row($L.charAt(memory[next] & 0xff), $L)\n: $L$<$<",
              picture,
              reading.arguments("next"),
              reading.undecided())
          : CodeBlock.of(
              "row($L.charAt(byteAt(memory, next)), $L)", picture, reading.arguments("next"));
    }
    return CodeBlock.of(row instanceof ModelRow.Anything ? "ANYTHING" : reading.none());
  }

  private CodeBlock meaning(ModelRow.Length length) {
    CodeBlock bytes =
        CodeBlock.of(
            modeText
                .value(modes -> length.bytes().get(modes), Map.of(0, reading.none()))
                .replace(" + ", "$W+ "));
    if (length.specifier().isEmpty()) {
      return bytes;
    }
    ModelSpecifier specifier = length.specifier().get();
    String added =
        String.format(Locale.ROOT, "%s(%s)", methods.get(specifier), reading.arguments("next"));
    if (reading == Reading.BOUNDED || specifier.isEverUndecided(table.modes())) {
      return CodeBlock.of("plus($L,$W$L)", bytes, added);
    }
    return CodeBlock.of(isConstant(length) ? "$L + $L" : "($L)$W+ $L", bytes, added);
  }

  private static boolean isConstant(ModelRow.Length length) {
    return length.bytes().stream().distinct().count() == 1;
  }

  private MethodSpec specifierMethod(ModelSpecifier specifier) {
    MethodSpec.Builder method = reader(methods.get(specifier), "at");
    method.addJavadoc(
        "Returns the bytes that operand specifier $L at {@code at} adds after itself.\n",
        specifier.specifier().name());
    new SpecifierMethod(specifier, reading, table.modes()).writeBody(method);
    return method.build();
  }

  private MethodSpec plus() {
    String undecided = reading == Reading.BOUNDED ? reading.undecided() : "NOT_DECIDED";
    return helper("plus", int.class)
        .addJavadoc("Adds what a specifier says, unless it says $L.\n", undecided)
        .addParameter(int.class, "bytes")
        .addParameter(int.class, "added")
        .addStatement("return added == $L ? $L : bytes + added", undecided, reading.undecided())
        .build();
  }
}

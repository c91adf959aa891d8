package dev.lengthwise.javamodel;

import com.palantir.javapoet.CodeBlock;
import com.palantir.javapoet.FieldSpec;
import com.palantir.javapoet.MethodSpec;
import com.palantir.javapoet.TypeSpec;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OpcodeSelector;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import javax.lang.model.element.Modifier;

/**
 * Writes the constants that hold a map's letters.
 *
 * <p>256 letters are one text constant. 65536 letters would not fit the constant pool of a class
 * file, nor their initialiser a method, so those of a word-coded map are filled in by ranges and
 * patterns when the class is loaded, as the description gives them.
 */
final class MapField {

  /** Each call takes about 20 bytes of the 65535 that a method may have. */
  private static final int MOST_CALLS = 1000;

  private static final int ACROSS = 16;

  private MapField() {}

  /** Returns a field with the letters of 256 byte values, in lines of 16. */
  static FieldSpec picture(String name, String letters, CodeBlock javadoc) {
    CodeBlock.Builder value = CodeBlock.builder().add("\n$>$>\"\"\n$>$>// 0123456789abcdef");
    for (int from = 0; from < letters.length(); from += ACROSS) {
      String line = RowLetters.source(letters.substring(from, from + ACROSS));
      value.add("\n+ \"$L\"", line);
      value.add(
          from + ACROSS < letters.length() ? String.format(Locale.ROOT, " // %02x", from) : "");
    }
    return FieldSpec.builder(String.class, name, Modifier.PRIVATE, Modifier.STATIC, Modifier.FINAL)
        .addJavadoc(javadoc)
        .initializer(value.add("$<$<$<$<").build())
        .build();
  }

  /** Adds a field with the letters of 65536 words, and the methods that fill it. */
  static void addWords(
      TypeSpec.Builder type, String field, String method, OpcodeMap map, String letters) {
    type.addField(
        FieldSpec.builder(char[].class, field, Modifier.PRIVATE, Modifier.STATIC, Modifier.FINAL)
            .addJavadoc("Map $L: the row of each opcode.\n", map.name())
            .initializer("$L()", method)
            .build());
    List<CodeBlock> calls = calls(map, letters.toCharArray());
    MethodSpec.Builder first = filler(method).returns(char[].class);
    first.addStatement("char[] rows = new char[$L]", "0x10000");
    for (int from = 0, part = 1; from < calls.size() || part == 1; from += MOST_CALLS, part++) {
      List<CodeBlock> some = calls.subList(from, Math.min(from + MOST_CALLS, calls.size()));
      if (calls.size() <= MOST_CALLS) {
        some.forEach(first::addStatement);
      } else {
        MethodSpec.Builder more = filler(method + "Part" + part).addParameter(char[].class, "rows");
        some.forEach(more::addStatement);
        type.addMethod(more.build());
        first.addStatement("$L(rows)", method + "Part" + part);
      }
    }
    type.addMethod(first.addStatement("return rows").build());
  }

  private static MethodSpec.Builder filler(String name) {
    return MethodSpec.methodBuilder(name).addModifiers(Modifier.PRIVATE, Modifier.STATIC);
  }

  /** Fills by the description's selectors, then by ranges what a lane treats differently. */
  private static List<CodeBlock> calls(OpcodeMap map, char[] wanted) {
    List<CodeBlock> calls = new ArrayList<>();
    char[] filled = new char[wanted.length];
    int others = firstOther(map);
    char background = others < 0 ? '.' : wanted[others];
    Arrays.fill(filled, background);
    calls.add(CodeBlock.of("$T.fill(rows, $L)", Arrays.class, letter(background)));
    for (int group = 0; group < map.groups().size(); group++) {
      OpcodeSelector selector = map.groups().get(group).selector();
      int first = map.codes(group).findFirst().orElse(-1);
      if (first >= 0 && !(selector instanceof OpcodeSelector.Others)) {
        char letter = wanted[first];
        if (letter != background) {
          map.codes(group).forEach(code -> filled[code] = letter);
          calls.add(call(selector, letter));
        }
      }
    }
    int from = 0;
    while (from < wanted.length) {
      if (filled[from] == wanted[from]) {
        from++;
        continue;
      }
      int to = from;
      while (to + 1 < wanted.length && wanted[to + 1] == wanted[from]) {
        to++;
      }
      calls.add(call(new OpcodeSelector.Range(from, to), wanted[from]));
      from = to + 1;
    }
    return calls;
  }

  private static int firstOther(OpcodeMap map) {
    for (int group = 0; group < map.groups().size(); group++) {
      if (map.groups().get(group).selector() instanceof OpcodeSelector.Others) {
        return map.codes(group).findFirst().orElse(-1);
      }
    }
    return -1;
  }

  private static CodeBlock call(OpcodeSelector selector, char letter) {
    if (selector instanceof OpcodeSelector.Matching matching) {
      return CodeBlock.of(
          "matching(rows, $L, $L, $L)",
          hex(matching.pattern().mask()),
          hex(matching.pattern().value()),
          letter(letter));
    }
    OpcodeSelector.Range range = (OpcodeSelector.Range) selector;
    return CodeBlock.of(
        "$T.fill(rows, $L, $L + 1, $L)",
        Arrays.class,
        hex(range.from()),
        hex(range.to()),
        letter(letter));
  }

  private static String letter(char letter) {
    return "'" + RowLetters.source(String.valueOf(letter)) + "'";
  }

  private static String hex(int value) {
    return String.format(Locale.ROOT, "0x%04x", value);
  }

  /** Returns the method that fills by a pattern. */
  static MethodSpec matching() {
    return filler("matching")
        .addJavadoc("Gives a row to all opcodes whose fixed bits have the value.\n")
        .addParameter(char[].class, "rows")
        .addParameter(int.class, "mask")
        .addParameter(int.class, "value")
        .addParameter(char.class, "row")
        .beginControlFlow("for (int code = 0; code < rows.length; code++)")
        .beginControlFlow("if ((code & mask) == value)")
        .addStatement("rows[code] = row")
        .endControlFlow()
        .endControlFlow()
        .build();
  }
}

package dev.lengthwise.javamodel;

import com.palantir.javapoet.CodeBlock;
import com.palantir.javapoet.MethodSpec;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.stream.Collectors;
import javax.lang.model.element.Modifier;

/** Writes what prefixes do to modes. */
final class PrefixCode {

  /** Prefixes are named in lines of so many, so that lines stay short. */
  private static final int MOST_IN_LINE = 8;

  private PrefixCode() {}

  /** Returns the method that gives the modes after a prefix, or says that a code is none. */
  static MethodSpec afterPrefix(InstructionSet set, Collection<Integer> codes) {
    Map<String, List<Integer>> codesOfEffect = new LinkedHashMap<>();
    for (int code : codes) {
      String effect = effect(set.prefixes().prefixes().get(code));
      codesOfEffect.computeIfAbsent(effect, e -> new ArrayList<>()).add(code);
    }
    MethodSpec.Builder method =
        MethodSpec.methodBuilder("afterPrefix")
            .addModifiers(Modifier.PRIVATE, Modifier.STATIC)
            .returns(int.class)
            .addJavadoc(
                """
                Returns the modes after a prefix, or NOT_A_PREFIX.

                @param code the code unit
                @param initial the modes before the first prefix, which flips go by
                @param modes the modes before this prefix
                """)
            .addParameter(int.class, "code")
            .addParameter(int.class, "initial")
            .addParameter(int.class, "modes");
    method.addCode("return switch (code) {\n$>");
    codesOfEffect.forEach(
        (effect, same) -> method.addCode("case $L -> $L;\n", list(same, set), effect));
    return method.addCode("default -> NOT_A_PREFIX;\n$<};\n").build();
  }

  /** Returns codes in hex, separated by commas. */
  static CodeBlock list(List<Integer> codes, InstructionSet set) {
    String format = set.table().unit().bytes() == 1 ? "0x%02x" : "0x%04x";
    List<String> texts = codes.stream().map(c -> String.format(Locale.ROOT, format, c)).toList();
    CodeBlock.Builder out = CodeBlock.builder();
    for (int i = 0; i < texts.size(); i++) {
      String gap = i == 0 ? "" : i % MOST_IN_LINE == 0 ? ",\n    " : ", ";
      out.add("$L", gap + texts.get(i));
    }
    return out.build();
  }

  private static String effect(PrefixRules.Prefix prefix) {
    String kept = modesWith(prefix, null);
    if (kept.isEmpty()) {
      return "modes";
    }
    String set = modesWith(prefix, PrefixRules.Effect.SET);
    String flip = modesWith(prefix, PrefixRules.Effect.FLIP);
    StringBuilder text = new StringBuilder("modes & ~").append(mask(kept));
    if (!set.isEmpty()) {
      text.append(" | ").append(set);
    }
    if (!flip.isEmpty()) {
      text.append(" | ~initial & ").append(mask(flip));
    }
    return text.toString();
  }

  private static String mask(String modes) {
    return modes.contains("|") ? "(" + modes + ")" : modes;
  }

  /** Returns the modes on which a prefix has an effect, or any effect if none is asked for. */
  private static String modesWith(PrefixRules.Prefix prefix, PrefixRules.Effect effect) {
    return prefix.effects().entrySet().stream()
        .filter(entry -> effect == null || entry.getValue() == effect)
        .map(entry -> JavaNames.mode(entry.getKey()))
        .collect(Collectors.joining(" | "));
  }
}

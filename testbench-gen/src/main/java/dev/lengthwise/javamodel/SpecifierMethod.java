package dev.lengthwise.javamodel;

import com.palantir.javapoet.CodeBlock;
import com.palantir.javapoet.MethodSpec;
import dev.lengthwise.table.BitPattern;
import dev.lengthwise.table.ModeCondition;
import dev.lengthwise.table.OperandSpecifier;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.OptionalInt;
import java.util.stream.Collectors;

/** Writes the method that says what an operand specifier adds, case by case. */
final class SpecifierMethod {

  private final ModelSpecifier specifier;
  private final Reading reading;
  private final List<String> modeNames;
  private final ModeText modeText;
  private boolean complete;

  SpecifierMethod(ModelSpecifier specifier, Reading reading, List<String> modeNames) {
    this.specifier = specifier;
    this.reading = reading;
    this.modeNames = modeNames;
    this.modeText = new ModeText(modeNames);
  }

  /** The cases of one pattern of the specifier byte under one condition. */
  private record Group(BitPattern pattern, ModeCondition when) {}

  /** Adds the body; the place of the specifier byte is the parameter {@code at}. */
  void writeBody(MethodSpec.Builder method) {
    if (reading == Reading.BOUNDED) {
      method.beginControlFlow("if (at >= end)");
      method.addStatement("return $L", reading.undecided());
      method.endControlFlow();
      method.addStatement("int value = memory[at] & 0xff");
    } else {
      method.addStatement("int value = byteAt(memory, at)");
    }
    groups().forEach((group, cases) -> writeGroup(method, group, cases));
    if (!complete) {
      method.addStatement("throw new $T(value)", AssertionError.class);
    }
  }

  private Map<Group, List<OperandSpecifier.Case>> groups() {
    return specifier.specifier().cases().stream()
        .collect(
            Collectors.groupingBy(
                c -> new Group(c.pattern(), c.when()), LinkedHashMap::new, Collectors.toList()));
  }

  private void writeGroup(
      MethodSpec.Builder method, Group group, List<OperandSpecifier.Case> cases) {
    List<String> tests = new ArrayList<>();
    if (!group.when().equals(ModeCondition.ALWAYS)) {
      tests.add(modeText.holds(group.when()));
    }
    if (group.pattern().mask() != 0) {
      tests.add(matches("value", group.pattern()));
    }
    CodeBlock.Builder body = CodeBlock.builder();
    boolean returns = true;
    if (cases.get(0).nextPattern().isEmpty()) {
      body.addStatement("return $L", cases.get(0).bytes());
    } else if (specifier.readsNext()) {
      returns = writeNext(body, cases);
    } else {
      returns = writeWithoutNext(body, group);
    }
    if (tests.isEmpty()) {
      method.addCode(body.build());
      complete = returns;
    } else {
      method.addCode("if ($L) { // $L\n$>", String.join(" && ", tests), group.pattern());
      method.addCode(body.build());
      method.addCode("$<}\n");
    }
  }

  private boolean writeNext(CodeBlock.Builder body, List<OperandSpecifier.Case> cases) {
    if (reading == Reading.BOUNDED) {
      body.beginControlFlow("if (at + 1 >= end)");
      body.addStatement("return $L", reading.undecided());
      body.endControlFlow();
      body.addStatement("int next = memory[at + 1] & 0xff");
    } else {
      body.addStatement("int next = byteAt(memory, at + 1)");
    }
    for (OperandSpecifier.Case c : cases) {
      BitPattern pattern = c.nextPattern().orElseThrow();
      if (pattern.mask() == 0) {
        body.addStatement("return $L", c.bytes());
        return true;
      }
      body.add("if ($L) { // then $L\n$>", matches("next", pattern), pattern);
      body.addStatement("return $L", c.bytes());
      body.add("$<}\n");
    }
    return false;
  }

  /** The byte after is not seen: says what all of its values have in common, if anything. */
  private boolean writeWithoutNext(CodeBlock.Builder body, Group group) {
    Map<OptionalInt, List<int[]>> places = new LinkedHashMap<>();
    for (int modes = 0; modes < 1 << modeNames.size(); modes++) {
      for (int value = 0; value < 256; value++) {
        if (group.when().holds(modeNames, modes) && group.pattern().matches(value)) {
          places
              .computeIfAbsent(
                  specifier.addedByByte(value, modeNames, modes), added -> new ArrayList<>())
              .add(new int[] {modes, value});
        }
      }
    }
    OptionalInt most =
        places.entrySet().stream()
            .max((a, b) -> Integer.compare(a.getValue().size(), b.getValue().size()))
            .map(Map.Entry::getKey)
            .orElse(OptionalInt.empty());
    places.forEach(
        (added, exceptions) -> {
          if (!Objects.equals(added, most)) {
            exceptions.forEach(place -> writeException(body, place[0], place[1], added));
          }
        });
    body.addStatement("return $L", text(most));
    return true;
  }

  private void writeException(CodeBlock.Builder body, int modes, int value, OptionalInt added) {
    List<String> ones = new ArrayList<>();
    for (int i = 0; i < modeNames.size(); i++) {
      if ((modes >> i & 1) != 0) {
        ones.add(modeNames.get(i));
      }
    }
    String underModes =
        modeNames.isEmpty()
            ? ""
            : String.format(
                Locale.ROOT,
                "(modes & (%s)) == (%s) && ",
                ModeText.word(modeNames),
                ModeText.word(ones));
    body.beginControlFlow(
        "if ($L)", underModes + String.format(Locale.ROOT, "value == 0x%02x", value));
    body.addStatement("return $L", text(added));
    body.endControlFlow();
  }

  private static String text(OptionalInt added) {
    return added.isPresent() ? Integer.toString(added.getAsInt()) : "NOT_DECIDED";
  }

  private static String matches(String variable, BitPattern pattern) {
    return pattern.mask() == 0xff
        ? String.format(Locale.ROOT, "%s == 0x%02x", variable, pattern.value())
        : String.format(
            Locale.ROOT, "(%s & 0x%02x) == 0x%02x", variable, pattern.mask(), pattern.value());
  }
}

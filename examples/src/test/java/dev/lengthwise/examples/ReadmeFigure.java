package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertWithMessage;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.regex.MatchResult;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * A sentence of the README that states figures. They are read out of the README itself, so that
 * neither can change alone.
 *
 * @param sentence the sentence or a part of one, with {@code {}} for each figure; the README has it
 *     once, however its lines break
 * @param isBound whether the figures are the least that must be measured, not what is
 * @param measured measures the figures, as the README writes them
 */
record ReadmeFigure(String sentence, boolean isBound, Callable<List<?>> measured) {

  private static final Path README = Path.of("..", "README.md");
  private static final String NUMBER = "([0-9]+(?:[.][0-9]+)?)";

  /** What reads as a figure of size, depth or share. */
  private static final Pattern STATED =
      Pattern.compile("[0-9]+(?:[.][0-9]+)?(?:%| LUTs?\\b| levels?\\b| sites?\\b)");

  /** A sentence whose figures are as measured. */
  static ReadmeFigure exact(String sentence, Callable<List<?>> measured) {
    return new ReadmeFigure(sentence, false, measured);
  }

  /** A sentence whose figures are reached at least. */
  static ReadmeFigure atLeast(String sentence, Callable<List<?>> measured) {
    return new ReadmeFigure(sentence, true, measured);
  }

  /** Measures, compares, and names the sentence and both values where they differ. */
  void check(String readme) throws Exception {
    List<String> stated = stated(readme);
    List<String> found = measured.call().stream().map(Object::toString).toList();
    String message = String.format("README states \"%s\"", filled(stated));
    if (isBound) {
      for (int i = 0; i < stated.size(); i++) {
        assertWithMessage(message)
            .that(Double.parseDouble(found.get(i)))
            .isAtLeast(Double.parseDouble(stated.get(i)));
      }
    } else {
      assertWithMessage(message).that(filled(stated)).isEqualTo(filled(found));
    }
  }

  private List<String> stated(String readme) {
    List<MatchResult> places = pattern().matcher(readme).results().toList();
    assertWithMessage("README: the sentence must stand once: %s", sentence).that(places).hasSize(1);
    List<String> figures = new ArrayList<>();
    for (int group = 1; group <= places.get(0).groupCount(); group++) {
      figures.add(places.get(0).group(group));
    }
    return figures;
  }

  private String filled(List<String> figures) {
    String text = sentence;
    for (String figure : figures) {
      text = text.replaceFirst("\\{}", Matcher.quoteReplacement(figure));
    }
    return text;
  }

  private Pattern pattern() {
    return Pattern.compile(
        Arrays.stream(sentence.split("\\{}", -1))
            .map(Pattern::quote)
            .collect(Collectors.joining(NUMBER)));
  }

  /** Returns the README's prose, in one line. */
  static String prose() {
    try {
      return Files.readString(README).replaceAll("(?s)```.*?```", "").replaceAll("\\s+", " ");
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** Returns what reads as a figure in the README and stands in none of the sentences. */
  static List<String> unchecked(String readme, List<ReadmeFigure> figures) {
    List<MatchResult> checked =
        figures.stream().flatMap(figure -> figure.pattern().matcher(readme).results()).toList();
    return STATED
        .matcher(readme)
        .results()
        .filter(
            place ->
                checked.stream()
                    .noneMatch(c -> c.start() <= place.start() && place.end() <= c.end()))
        .map(place -> readme.substring(Math.max(0, place.start() - 60), place.end()))
        .toList();
  }
}

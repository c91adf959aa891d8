package dev.lengthwise.stream;

import dev.lengthwise.file.ShownText;
import java.util.Objects;

/**
 * Real code and how often each of its instructions was executed.
 *
 * @param name what reports call it; control characters are shown by their numbers
 * @param image the code
 * @param counts the instructions
 */
public record CodeStream(String name, CodeImage image, TraceCounts counts) {

  /**
   * Checks for null.
   *
   * @param name see CodeStream
   * @param image see CodeStream
   * @param counts see CodeStream
   */
  public CodeStream {
    name = ShownText.of(name);
    Objects.requireNonNull(image, "image");
    Objects.requireNonNull(counts, "counts");
  }
}

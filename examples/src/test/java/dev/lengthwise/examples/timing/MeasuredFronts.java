package dev.lengthwise.examples.timing;

import java.io.IOException;
import java.net.URISyntaxException;
import java.net.URL;
import java.nio.file.Path;
import java.util.Objects;

/** What {@code timing} measured of its eight lanes, as kept beside the tests. */
public final class MeasuredFronts {

  private MeasuredFronts() {}

  /** Returns the rows. */
  public static TimingFile file() throws IOException, URISyntaxException {
    URL kept = Objects.requireNonNull(MeasuredFronts.class.getResource(TimingFile.NAME));
    return TimingFile.in(Path.of(kept.toURI()).getParent());
  }
}

package dev.lengthwise.examples;

import dev.lengthwise.testing.Figures;
import java.util.stream.Stream;
import org.junit.jupiter.api.DynamicTest;
import org.junit.jupiter.api.TestFactory;

/**
 * Measures anew what the README states (Debian packages yosys and libc6-i386-cross); the figures
 * that take seconds are in {@link ReadmeTest}.
 */
@Figures
class ReadmeFiguresTest {

  @TestFactory
  Stream<DynamicTest> figures_areAsMeasured() {
    String readme = ReadmeFigure.prose();
    return Stream.concat(MeasuredFigures.quick().stream(), MeasuredFigures.slow().stream())
        .map(figure -> DynamicTest.dynamicTest(figure.sentence(), () -> figure.check(readme)));
  }
}

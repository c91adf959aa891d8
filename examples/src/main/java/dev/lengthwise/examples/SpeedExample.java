package dev.lengthwise.examples;

import dev.lengthwise.cache.Replacement;
import dev.lengthwise.examples.terminal.ProgressBars;
import dev.lengthwise.examples.terminal.TextTable;
import dev.lengthwise.isa.NamedSet;
import java.io.File;
import java.net.URI;
import java.net.URL;
import java.net.URLClassLoader;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import me.tongfei.progressbar.ProgressBar;
import org.openjdk.jmh.results.RunResult;
import org.openjdk.jmh.runner.Runner;
import org.openjdk.jmh.runner.RunnerException;
import org.openjdk.jmh.runner.options.ChainedOptionsBuilder;
import org.openjdk.jmh.runner.options.OptionsBuilder;
import org.openjdk.jmh.runner.options.TimeValue;
import org.openjdk.jmh.runner.options.VerboseMode;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.Spec;

/** Measures the speed of the software models on one thread. */
@Command(
    name = "speed",
    description = "Measures the software models, in a Java process of its own.")
final class SpeedExample implements Callable<Integer> {

  private static final double LEAST_SECONDS = 0.001;
  private static final double MOST_SECONDS = 3600;
  private static final String CLASS_PATH = "java.class.path";

  @Mixin private SetOption of = new SetOption("tidegate");

  @Option(
      names = "--seconds",
      description = "how long each measurement takes, of which there are five (${DEFAULT-VALUE})")
  private double seconds = 1;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws RunnerException {
    if (!(seconds >= LEAST_SECONDS && seconds <= MOST_SECONDS)) {
      throw new ParameterException(
          spec.commandLine(),
          "--seconds: must be in [" + LEAST_SECONDS + ", " + MOST_SECONDS + "], found " + seconds);
    }
    NamedSet set = of.set();
    String before = System.getProperty(CLASS_PATH);
    // Maven runs this in its own process, whose class path is not that of the examples.
    if (getClass().getClassLoader() instanceof URLClassLoader loader) {
      System.setProperty(CLASS_PATH, classPath(loader.getURLs()));
    }
    TextTable text = new TextTable("benchmark", "of", "million a second", "+-");
    try (ProgressBar bar = ProgressBars.of("speed", Replacement.values().length + 2L).build()) {
      for (Replacement replacement : Replacement.values()) {
        run("cacheAccesses", "replacement", replacement.name(), text);
        bar.step();
      }
      for (String benchmark : List.of("goldenLengths", "rowWindows")) {
        run(benchmark, "set", set.name(), text);
        bar.step();
      }
    } finally {
      System.setProperty(CLASS_PATH, before);
    }
    spec.commandLine().getOut().println(text);
    return 0;
  }

  private void run(String benchmark, String parameter, String value, TextTable text)
      throws RunnerException {
    ChainedOptionsBuilder options =
        new OptionsBuilder()
            .include(ModelBenchmarks.class.getName() + "." + benchmark)
            .forks(1)
            .warmupIterations(3)
            .warmupTime(time())
            .measurementIterations(5)
            .measurementTime(time())
            .param(parameter, value)
            .verbosity(VerboseMode.SILENT);
    for (RunResult result : new Runner(options.build()).run()) {
      text.row(
          benchmark,
          parameter.equals("set") ? "" : value,
          String.format(Locale.ROOT, "%.1f", result.getPrimaryResult().getScore() / 1e6),
          String.format(Locale.ROOT, "%.1f", result.getPrimaryResult().getScoreError() / 1e6));
    }
  }

  private TimeValue time() {
    return TimeValue.microseconds(Math.round(seconds * 1e6));
  }

  private static String classPath(URL[] urls) {
    return Arrays.stream(urls)
        .map(url -> Path.of(URI.create(url.toString())).toString())
        .collect(Collectors.joining(File.pathSeparator));
  }
}

package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.concurrent.TimeUnit;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * Two virtual machines that differ in language, country, time zone, default charset, line separator
 * and identity hashes emit the same bytes, whatever is emitted.
 */
@Slow
class SameBytesTest {

  /** Hash codes from a counter, locale with dotless i. */
  private static final List<String> TURKISH =
      List.of(
          "-Duser.language=tr",
          "-Duser.country=TR",
          "-Duser.timezone=Asia/Istanbul",
          "-Dfile.encoding=ISO-8859-9",
          "-XX:+UnlockExperimentalVMOptions",
          "-XX:hashCode=3");

  /** Hash codes from random numbers, locale whose digits are not ASCII, another line separator. */
  private static final List<String> ARABIC =
      List.of(
          "-Duser.language=ar",
          "-Duser.country=EG",
          "-Duser.extensions=u-nu-arab",
          "-Duser.timezone=Pacific/Apia",
          "-Dfile.encoding=UTF-8",
          "-Dline.separator=\r\n",
          "-XX:+UnlockExperimentalVMOptions",
          "-XX:hashCode=0");

  @TempDir Path folder;

  @Test
  void trees_ofTwoVirtualMachines_areEqual() throws Exception {
    Process first = start("first", TURKISH);
    Process second = start("second", ARABIC);
    finish("first", first);
    finish("second", second);
    Map<String, byte[]> one = files(folder.resolve("first"));
    Map<String, byte[]> other = files(folder.resolve("second"));
    assertThat(one.keySet()).isEqualTo(other.keySet());
    assertThat(one.keySet())
        .containsAtLeast(
            "rom/verilog/tidegate_lane.v",
            "banked/vhdl/tidegate_lane.vhd",
            "lut_network/java/sluice/SluiceLaneModel.java",
            "lut_network/bench/vectors/sluice_lane.hex",
            "row/bench/vhdl/tidegate_lanes_tb.vhd",
            "first/bench/verilog/tidegate_lanes_tb.v",
            "fetch/bench/vectors/tidegate_fetch_unit.hex",
            "fetch/cost.csv",
            "study/study.csv");
    List<String> different = new ArrayList<>();
    one.forEach(
        (path, bytes) -> {
          if (!Arrays.equals(bytes, other.get(path))) {
            different.add(path);
          }
        });
    assertThat(different).isEmpty();
  }

  private Process start(String name, List<String> options) throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "java").toString());
    command.addAll(options);
    // For short runs, this takes the least time.
    command.addAll(List.of("-XX:TieredStopAtLevel=1", "-XX:+UseSerialGC"));
    command.addAll(List.of("-cp", System.getProperty("java.class.path")));
    command.addAll(List.of(TidegateTrees.class.getName(), folder.resolve(name).toString()));
    return new ProcessBuilder(command)
        .redirectErrorStream(true)
        .redirectOutput(folder.resolve(name + ".log").toFile())
        .start();
  }

  private void finish(String name, Process process) throws Exception {
    try {
      assertWithMessage("%s ends", name).that(process.waitFor(300, TimeUnit.SECONDS)).isTrue();
      assertWithMessage("%s: %s", name, Files.readString(folder.resolve(name + ".log")))
          .that(process.exitValue())
          .isEqualTo(0);
    } finally {
      process.destroyForcibly();
    }
  }

  private static Map<String, byte[]> files(Path root) throws IOException {
    Map<String, byte[]> found = new TreeMap<>();
    try (Stream<Path> paths = Files.walk(root)) {
      for (Path path : paths.filter(Files::isRegularFile).toList()) {
        found.put(root.relativize(path).toString().replace('\\', '/'), Files.readAllBytes(path));
      }
    }
    return found;
  }
}

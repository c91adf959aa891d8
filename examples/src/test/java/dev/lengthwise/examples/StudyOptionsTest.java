package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.testing.Slow;
import java.nio.file.Files;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;

/** Runs the studies and the measurement of speed as {@link EveryOptionTest} runs the others. */
@Slow
class StudyOptionsTest extends OptionRuns {

  static final Set<String> EXAMPLES = Set.of("ia32-study", "speed");

  @Override
  boolean covers(String example) {
    return EXAMPLES.contains(example);
  }

  @Test
  void ia32Study() throws Exception {
    String first = SluiceSet.raw(folder, "first.bin", 40).toString();
    String trace = SluiceSet.trace(folder, "first.trace", 40).toString();
    String second = SluiceSet.raw(folder, "second.bin", 3).toString();
    String out =
        run(
                "ia32-study",
                "--set",
                "sluice",
                "--image",
                first,
                "--trace",
                trace,
                "--image",
                second,
                "--raw",
                "--only",
                "opcode,opcode_prefix",
                "--style",
                "ROM",
                "--undefined",
                "NOT_HANDLED",
                "--decoder",
                "1",
                "--advise",
                "100000",
                "--left-out",
                "--out",
                "s")
            .out();
    assertThat(out).contains("first.trace: " + SluiceSet.count(40) + " executed");
    assertThat(out).contains("second.bin: " + SluiceSet.count(3) + " executed");
    assertThat(out).contains("first.trace, rows left out");
    assertThat(Files.readAllLines(folder.resolve("s/study.csv"))).hasSize(5);
    assertFiles("s", "report.html", "advised/cost.csv", "advised/verilog/sluice_advised.f");
  }

  @Test
  void ia32Study_slices_mergeIntoTheBytesOfOneRun() throws Exception {
    String code = SmallCode.raw(folder, "sliced.bin", 3).toString();
    List<String> base = List.of("ia32-study", "--image", code, "--code16", "--style", "ROM");
    String out = study(base, "--only", "opcode,sib", "--left-out", "--out", "whole");
    assertThat(out).contains("sliced.bin, rows left out");
    assertThat(out).containsMatch("opcode +one_byte 0x0f +[0-9]+ ");
    study(base, "--only", "opcode,sib", "--part", "1/2", "--out", "one");
    study(base, "--only", "opcode,sib", "--part", "2/2", "--out", "two");
    study(base, "--only", "opcode,sib", "--merge", "one/study.csv,two/study.csv", "--out", "all");
    assertThat(Files.readAllLines(folder.resolve("one/study.csv"))).hasSize(2);
    for (String file : List.of("study.csv", "report.html")) {
      assertThat(Files.readString(folder.resolve("all").resolve(file)))
          .isEqualTo(Files.readString(folder.resolve("whole").resolve(file)));
    }
  }

  private String study(List<String> base, String... more) throws Exception {
    List<String> arguments = new ArrayList<>(base);
    arguments.addAll(List.of(more));
    return run(arguments.toArray(String[]::new)).out();
  }

  @Test
  void speed() throws Exception {
    String out = run("speed", "--set", "sluice", "--seconds", "0.01").out();
    for (String text : List.of("LRU", "TREE_PLRU", "FIFO", "RANDOM", "golden", "rowWindows")) {
      assertThat(out).contains(text);
    }
  }
}

package dev.lengthwise.testbench.yardstick;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.logic.function.TruthTables;
import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

@CallsTools
class YosysTest {

  private static final String AND =
      BehaviouralVerilog.of(TruthTables.parse("inputs 2 outputs 1\n0001\n"));

  private static final int SCRIPTS = 6;

  @TempDir Path temp;

  @Test
  void best_ofAnd_isOneLut() {
    Yosys.Figure figure = new Yosys().best(List.of(AND), 6);
    assertThat(List.of(figure.luts(), figure.levels())).containsExactly(1, 1);
  }

  @Test
  void best_mapperAbortsOnce_runsTheScriptAgain() throws IOException {
    Yosys yosys = failing("[ -e again ] && { rm again; exec yosys \"$@\"; }; touch again", 134);
    assertThat(yosys.best(List.of(AND), 6).luts()).isEqualTo(1);
  }

  @Test
  void best_mapperAbortsAlways_failsWithWhatItPrinted() throws IOException {
    Yosys yosys = failing("true", 139);
    Throwable thrown = assertThrows(IllegalStateException.class, () -> yosys.best(List.of(AND), 6));
    assertThat(thrown).hasMessageThat().contains("return code 139");
  }

  @Test
  void best_toolRejectsItsInput_failsAtOnce() throws IOException {
    Path runs = temp.resolve("runs.txt");
    Yosys yosys = failing("echo x >> " + runs, 1);
    Throwable thrown = assertThrows(IllegalStateException.class, () -> yosys.all(AND, 6));
    assertThat(thrown).hasMessageThat().contains("the script must pass");
    assertThat(Files.readAllLines(runs).size()).isAtMost(SCRIPTS);
  }

  @Test
  void within_scriptThatRunsOn_isEndedAndEmpty() throws IOException {
    Yosys yosys = failing("exec sleep 60", 134);
    assertThat(yosys.within(1, AND, "synth -lut 6").isEmpty()).isTrue();
  }

  @Test
  void within_noTime_isRejected() {
    Throwable thrown =
        assertThrows(
            IllegalArgumentException.class, () -> new Yosys().within(0, AND, "synth -lut 6"));
    assertThat(thrown)
        .hasMessageThat()
        .isEqualTo("yosys: a script must be given at least 1 second, found 0");
  }

  /** A program that does something first and then fails as Yosys does if its mapper fails. */
  private Yosys failing(String first, int mapperStatus) throws IOException {
    Path program = temp.resolve("yosys");
    Files.writeString(
        program,
        """
        #!/bin/sh
        %s
        echo "ERROR: ABC: execution of command berkeley-abc failed: return code %d."
        exit 1
        """
            .formatted(first, mapperStatus));
    Files.setPosixFilePermissions(program, PosixFilePermissions.fromString("rwx------"));
    return new Yosys(program.toString());
  }
}

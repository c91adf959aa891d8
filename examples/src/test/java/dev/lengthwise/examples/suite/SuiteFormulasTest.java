package dev.lengthwise.examples.suite;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.proof.Equivalence;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The tables, the texts that the tool gets beside them and the networks of gates are one. */
class SuiteFormulasTest {

  @TempDir Path folder;

  @Test
  void gates_areTheTables() {
    int networks = 0;
    for (SuiteFunction function : Suite.functions()) {
      if (function.gates().isPresent()) {
        networks++;
        assertWithMessage(function.name())
            .that(Equivalence.check(function.gates().get(), function.tables()).proved())
            .isTrue();
        assertThat(function.gates().get().mostFanIns()).isAtMost(3);
      }
    }
    assertThat(networks).isEqualTo(31);
  }

  /** Every text at every point in Icarus Verilog, {@code x} where the table says nothing. */
  @Test
  @CallsTools
  void formulas_areTheTables() throws IOException {
    StringBuilder text = new StringBuilder();
    StringBuilder instances = new StringBuilder();
    int formulas = 0;
    for (SuiteFunction function : Suite.functions()) {
      for (String formula : function.formulas()) {
        String name = "f" + formulas++;
        text.append(formula.replace("module top(", "module " + name + "("));
        text.append(bench(name, function));
        instances.append("  ").append(name).append("_bench b").append(name).append("();\n");
      }
    }
    text.append("module bench;\n").append(instances).append("endmodule\n");
    Files.writeString(folder.resolve("all.v"), text);
    Tool.named("iverilog", "iverilog")
        .runIn(folder, 60, "-g2005", "-s", "bench", "-o", "all", "all.v");
    List<String> lines = Tool.named("vvp", "iverilog").runIn(folder, 60, "all").lines().toList();
    assertThat(lines).hasSize(formulas);
    assertThat(lines.stream().filter(line -> !line.endsWith(" agree at every point")).toList())
        .isEmpty();
  }

  private String bench(String name, SuiteFunction function) throws IOException {
    List<TruthTable> outputs = function.tables().outputs();
    StringBuilder words = new StringBuilder();
    for (int point = 0; point < 1 << function.tables().inputs(); point++) {
      for (int i = outputs.size() - 1; i >= 0; i--) {
        TruthTable output = outputs.get(i);
        words.append(!output.isCare(point) ? 'x' : output.isOn(point) ? '1' : '0');
      }
      words.append('\n');
    }
    Files.writeString(folder.resolve(name + ".txt"), words);
    // The operator === compares x too, so an expected x is put where it was not expected.
    return String.format(
        Locale.ROOT,
        """
        module %1$s_bench;
          reg [%2$d:0] x; wire [%3$d:0] y; reg [%3$d:0] seen;
          reg [%3$d:0] table_ [0:%4$d];
          integer i, k, wrong;
          %1$s dut(.x(x), .y(y));
          initial begin
            $readmemb("%1$s.txt", table_);
            wrong = 0;
            for (i = 0; i <= %4$d; i = i + 1) begin
              x = i;
              #1 seen = y;
              for (k = 0; k <= %3$d; k = k + 1) if (table_[i][k] === 1'bx) seen[k] = 1'bx;
              if (seen !== table_[i]) wrong = wrong + 1;
            end
            if (wrong == 0) $display("%5$s agree at every point");
            else $display("%5$s differ at %%0d points", wrong);
          end
        endmodule
        """,
        name,
        function.tables().inputs() - 1,
        outputs.size() - 1,
        (1 << function.tables().inputs()) - 1,
        function.name());
  }

  @Test
  void functions_areSixtyOfDifferentNames() {
    List<SuiteFunction> functions = Suite.functions();
    assertThat(functions).hasSize(60);
    assertThat(functions.stream().map(SuiteFunction::name).distinct().toList()).hasSize(60);
    assertThat(functions.stream().max(Comparator.comparingInt(f -> f.tables().inputs())).get())
        .isEqualTo(functions.stream().filter(f -> f.tables().inputs() == 16).findFirst().get());
  }
}

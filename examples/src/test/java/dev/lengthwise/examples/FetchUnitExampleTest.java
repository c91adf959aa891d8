package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import dev.lengthwise.testing.CallsTools;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The example {@code fetch-unit} (Debian package iverilog, which it runs if it is there). */
@CallsTools
class FetchUnitExampleTest {

  @TempDir Path folder;

  @Test
  void run_smallCache_writesRtlBenchesAndTables() throws IOException {
    int status =
        Examples.run(
            "fetch-unit",
            "--capacity",
            "512",
            "--ways",
            "2",
            "--address",
            "16",
            "--predecode",
            "ON_FILL",
            "--out",
            folder.toString());
    assertThat(status).isEqualTo(0);
    for (String file :
        List.of(
            "verilog/tidegate_fetch_unit.f",
            "vhdl/tidegate_fetch_unit.vhd",
            "bench/verilog/tidegate_fetch_unit_tb.v",
            "bench/vhdl/tidegate_fetch_unit_tb.vhd",
            "bench/vectors/tidegate_fetch_unit.hex",
            "paths.csv",
            "ram_fit.csv")) {
      assertThat(Files.size(folder.resolve(file))).isGreaterThan(0);
    }
    String paths = Files.readString(folder.resolve("paths.csv"));
    for (String place : List.of("inline", "per_way", "on_fill_10")) {
      assertThat(paths).contains("block_ram," + place + ",2,");
      assertThat(paths).contains("distributed_ram," + place + ",2,");
    }
    assertThat(Examples.run("fetch-unit", "--ways", "17")).isEqualTo(2);
  }
}

package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.PredecodePlace;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.cache.RamUse.Medium;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.WindowEnd;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.verilog.VerilogOptions;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

/**
 * What RAM Yosys infers from a fetch unit, by its generic mapping to RAM of given shapes (Debian
 * package yosys). The attributes are those that Yosys reads; without them it puts tags that would
 * leave most of a block RAM empty in LUT RAM.
 */
@CallsTools
class RamInferenceTest {

  /** The widest shapes of the device profile: block RAM of 512 x 64 + 8, LUT RAM of 64 x 1. */
  private static final String SHAPES =
      """
      ram block $__BLOCK_RAM_ {
        abits 9;
        width 72;
        cost 64;
        init any;
        port sr "R" {
          clock posedge;
          rden;
        }
        port sw "W" {
          clock posedge;
          wrtrans all old;
        }
      }
      ram distributed $__LUT_RAM_ {
        abits 6;
        width 1;
        cost 1;
        init any;
        port ar "R" {
        }
        port sw "W" {
          clock posedge;
        }
      }
      """;

  @TempDir Path tree;

  /** Common practice, no source: 16 KiB, 4 ways, 32-byte lines, 32-bit address. */
  private static Design design(TagPlace tags) {
    LaneArray row =
        LaneArray.builder(Predecoder.builder(FetchUnits.set()).build(), 8)
            .end(WindowEnd.NOT_HANDLED)
            .build();
    InstructionCache cache =
        InstructionCache.named("cache", new CacheGeometry(16384, 4, 32, 32, 8))
            .tags(tags)
            .predecode(PredecodePlace.perWay())
            .build();
    return Realizer.on(DeviceProfile.sixInputDualOutput())
        .realize(FetchUnit.of("inferred", cache, row), Style.BANKED);
  }

  @ParameterizedTest
  @EnumSource
  void yosys_everyTagPlace_infersTheRamOfTheFit(TagPlace tags) throws IOException {
    Design design = design(tags);
    VerilogOptions attributes =
        VerilogOptions.standard()
            .withBlockRam("ram_style = \"block\"")
            .withDistributedRam("ram_style = \"distributed\"");
    OutputTree.at(tree).add(new Verilog(attributes)).write(design);
    Files.writeString(tree.resolve("shapes.txt"), SHAPES);
    String script =
        String.join(
            "; ",
            "read_verilog " + String.join(" ", WrittenDesign.of(tree, design.name()).verilog()),
            "hierarchy -check -top " + design.name(),
            "proc -norom", // a lane's tables are logic here, not RAM
            "check -assert",
            "select -assert-none t:$dlatch t:$adlatch t:$dlatchsr",
            "flatten",
            "opt",
            "memory -nomap",
            "memory_libmap -lib shapes.txt",
            "select -assert-none t:$mem t:$mem_v2",
            "tee -o cells.txt stat");
    ToolRun run = ToolRun.of("yosys", tree, 300, List.of("yosys", "-q", "-p", script));
    assertWithMessage(run.output()).that(run.status()).isEqualTo(0);
    String cells = Files.readString(tree.resolve("cells.txt"));
    RamFit fit = RamFit.of(design.unit().orElseThrow().cache(), design.device());
    assertThat(count(cells, "__BLOCK_RAM_")).isEqualTo(fit.primitives(Medium.BLOCK_RAM));
    assertThat(count(cells, "__LUT_RAM_")).isEqualTo(fit.primitives(Medium.DISTRIBUTED_RAM));
    // By hand: 4 ways of 512 windows of 64 bits; tags of 4 ways, or 2 banks of 4 x 20 bits; 2 banks
    // of 6 bits of LRU.
    boolean block = tags == TagPlace.BLOCK_RAM;
    assertThat(count(cells, "__BLOCK_RAM_")).isEqualTo(block ? 8 : 4);
    assertThat(count(cells, "__LUT_RAM_")).isEqualTo(block ? 12 : 172);
  }

  private static long count(String cells, String type) {
    Matcher found = Pattern.compile("\\$" + type + "\\s+([0-9]+)").matcher(cells);
    return found.find() ? Long.parseLong(found.group(1)) : 0;
  }
}

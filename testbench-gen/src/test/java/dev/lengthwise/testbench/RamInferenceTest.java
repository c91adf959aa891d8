package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.params.provider.Arguments.arguments;

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
import dev.lengthwise.testing.EmittedTree;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.testing.GhdlNetlist;
import dev.lengthwise.verilog.Verilog;
import dev.lengthwise.vhdl.Vhdl;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/**
 * What RAM Yosys infers from a fetch unit, by its generic mapping to RAM of given shapes and for
 * three devices that it knows (Debian packages yosys and ghdl). Without the attributes of the text
 * it puts tags that would leave most of a block RAM empty in LUT RAM.
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
    OutputTree.at(tree).add(new Verilog()).write(design);
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

  /** A device that Yosys knows: its command, its shapes of RAM, and what it calls them. */
  @SuppressWarnings("ImmutableEnumChecker") // a profile is immutable
  private enum Device {
    FOUR_WITHOUT_LUT_RAM(
        "synth_ice40", "map_ffram", DeviceProfile.fourInput(), "SB_RAM40_4K\\w*", "-"),
    FOUR(
        "synth_ecp5",
        "map_ffram",
        DeviceProfile.named("four_with_lut_ram", 4)
            .blockRam(512, 32, 4)
            .blockRam(1024, 16, 2)
            .distributedRam(16, 4, 0)
            .build(),
        "(PDPW16KD|DP16KD|\\$__PDPW16KD_|\\$__DP16KD_)",
        "(TRELLIS_DPR16X4|\\$__TRELLIS_DPR16X4_)"),
    SIX(
        "synth_xilinx -noiopad -noclkbuf",
        "map_ffram",
        DeviceProfile.named("six", 6)
            .blockRam(512, 64, 8)
            .blockRam(1024, 32, 4)
            .distributedRam(64, 3, 0)
            .distributedRam(32, 6, 0)
            .distributedRam(128, 1, 0)
            .build(),
        "RAMB(18|36)E1",
        "RAM[0-9]+(M|X1[DS])");

    private final String synthesis;
    private final String end;
    private final DeviceProfile profile;
    private final String blockRam;
    private final String lutRam;

    Device(String synthesis, String end, DeviceProfile profile, String blockRam, String lutRam) {
      this.synthesis = synthesis;
      this.end = end;
      this.profile = profile;
      this.blockRam = blockRam;
      this.lutRam = lutRam;
    }
  }

  /** Two ways of 4 KiB: 512 windows of 64 bits each, and 128 tags of 12 bits. */
  private static Design twoWays(TagPlace tags, DeviceProfile device) {
    LaneArray row =
        LaneArray.builder(Predecoder.builder(FetchUnits.set()).build(), 8)
            .end(WindowEnd.NOT_HANDLED)
            .build();
    InstructionCache cache =
        InstructionCache.named("cache", new CacheGeometry(8192, 2, 32, 24, 8)).tags(tags).build();
    return Realizer.on(device).realize(FetchUnit.of("two_ways", cache, row), Style.BANKED);
  }

  /** Each device in every build; each with every place of tags with {@code -Dwhole=true}. */
  static List<Arguments> devices() {
    return Extent.oneOf(
        2,
        List.of(
            arguments(Device.FOUR_WITHOUT_LUT_RAM, TagPlace.BLOCK_RAM, 0),
            arguments(Device.FOUR, TagPlace.BLOCK_RAM, 1),
            arguments(Device.FOUR, TagPlace.DISTRIBUTED_RAM, 3),
            arguments(Device.SIX, TagPlace.BLOCK_RAM, 0),
            arguments(Device.SIX, TagPlace.DISTRIBUTED_RAM, 0)));
  }

  @ParameterizedTest
  @MethodSource("devices")
  void yosys_everyDevice_makesTheRamOfTheFitAndNoneIsEmulated(
      Device device, TagPlace tags, int copies) throws IOException {
    Design design = twoWays(tags, device.profile);
    OutputTree.at(tree).add(new Verilog()).write(design);
    checkRam(device, design, WrittenDesign.of(tree, design.name()).verilog(), "", copies);
  }

  /** The one that has both kinds of RAM in every build; the other with {@code -Dwhole=true}. */
  static List<Arguments> throughGhdl() {
    return Extent.oneOf(
        2,
        List.of(
            arguments(Device.FOUR, TagPlace.BLOCK_RAM, 1),
            arguments(Device.FOUR_WITHOUT_LUT_RAM, TagPlace.BLOCK_RAM, 0)));
  }

  /** GHDL's Verilog has no attributes, so that the script says what RAM is wanted. */
  @ParameterizedTest
  @MethodSource("throughGhdl")
  void yosys_vhdlThroughGhdl_makesTheSame(Device device, TagPlace tags, int copies)
      throws IOException {
    Design design = twoWays(tags, device.profile);
    OutputTree.at(tree).add(new Verilog()).add(new Vhdl()).write(design);
    Path netlist = tree.resolve("netlist.v");
    EmittedTree emitted = new EmittedTree(tree, design.name());
    Files.writeString(netlist, GhdlNetlist.of(emitted.vhdl(), design.name(), tree));
    String told =
        "setattr -set ram_style \"block\" m:tags m:windows; "
            + (device == Device.FOUR ? "setattr -set ram_style \"distributed\" m:state; " : "");
    checkRam(device, design, List.of(netlist.toString()), told, copies);
  }

  private void checkRam(Device device, Design design, List<String> files, String told, int copies)
      throws IOException {
    String script =
        String.join(
            "; ",
            "read_verilog " + String.join(" ", files),
            "hierarchy -check -top " + design.name(),
            told + "setattr -mod -unset keep_hierarchy",
            device.synthesis + " -top " + design.name() + " -run begin:" + device.end,
            "flatten; select -assert-none t:$mem t:$mem_v2",
            "simplemap; opt_clean; tee -o cells.txt stat");
    ToolRun run = ToolRun.of("yosys", tree, 300, List.of("yosys", "-q", "-p", script));
    assertWithMessage(run.lastLines()).that(run.status()).isEqualTo(0);
    String cells = Files.readString(tree.resolve("cells.txt"));
    RamFit fit = RamFit.of(design.unit().orElseThrow().cache(), design.device());
    assertWithMessage(cells)
        .that(sum(cells, device.blockRam))
        .isEqualTo(fit.primitives(Medium.BLOCK_RAM));
    assertWithMessage(cells)
        .that(sum(cells, device.lutRam))
        .isEqualTo(fit.primitives(Medium.DISTRIBUTED_RAM));
    // A RAM whose collisions are emulated would have the bits of a word beside it, and more. What
    // Yosys does add on a device whose LUT RAM has no register at its address is a copy of the
    // register that addresses it, for each array that it first took for block RAM.
    int index = design.unit().orElseThrow().cache().geometry().index().width();
    assertWithMessage(cells)
        .that(sum(cells, "\\$_S?DFF\\w*_"))
        .isEqualTo(design.total().registers() + copies * index);
  }

  private static long sum(String cells, String type) {
    return Pattern.compile("(?m)^ +" + type + " +([0-9]+)$")
        .matcher(cells)
        .results()
        .mapToLong(line -> Long.parseLong(line.group(line.groupCount())))
        .sum();
  }

  private static long count(String cells, String type) {
    Matcher found = Pattern.compile("\\$" + type + "\\s+([0-9]+)").matcher(cells);
    return found.find() ? Long.parseLong(found.group(1)) : 0;
  }
}

package dev.lengthwise.testbench;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Port;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.OutputTree;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.testbench.tool.ToolRun;
import dev.lengthwise.testbench.tool.WrittenDesign;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Extent;
import dev.lengthwise.verilog.Verilog;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/**
 * No cache uses a word of block RAM that was read in the cycle that wrote it: proved by induction
 * over the emitted Verilog, for any contents of the RAMs, any lanes and any inputs (Debian package
 * yosys). Of the 24 fetch units every fifth in every build, of one way and of one set among them.
 */
@CallsTools
class CollisionProofTest {

  private static final String HITS_AHEAD = "asked_hits";

  @TempDir Path tree;

  /** What is claimed of a cache: the wires of its text, with their widths, and the claims. */
  private static final class Claims {
    private final FetchUnit unit;
    private final CacheGeometry geometry;
    private final boolean block;
    private final Map<String, Integer> wires = new LinkedHashMap<>();
    private final List<String> claims = new ArrayList<>();

    Claims(FetchUnit unit) {
      this.unit = unit;
      this.geometry = unit.cache().geometry();
      this.block = unit.cache().tags() == TagPlace.BLOCK_RAM;
      wires();
      used();
      state();
    }

    private int windows() {
      return geometry.lineWindows();
    }

    private void wires() {
      int ways = geometry.ways();
      int index = Math.max(1, geometry.index().width());
      int window = Integer.numberOfTrailingZeros(windows());
      wires.put("fetch_number", unit.windowNumberBits());
      for (String bit :
          List.of("moves", "asked_valid", "asked_busy", "flush_pending", "flush_looked")) {
        wires.put(bit, 1);
      }
      for (String each : List.of("asked_ways", "victim_ways", "line_fill_write_ways")) {
        wires.put(each, ways);
      }
      wires.put(block ? "tag_compare_hits" : HITS_AHEAD, ways);
      wires.put("line_fill_write_place", window + index);
      wires.put("line_fill.active", 1);
      if (ways > 1) {
        wires.put("line_fill.filled_way", 32 - Integer.numberOfLeadingZeros(ways - 1));
      }
      wires.put("line_fill.arrived", windows());
      if (window > 0) {
        wires.put("line_fill.filled_window", window);
      }
      wires.put("line_fill.line", unit.windowNumberBits() - window);
      if (geometry.sets() > 1) {
        wires.put("looked_index", index);
        wires.put("asked_index", index);
      }
      for (int way = 0; way < ways; way++) {
        wires.put("valid_lines.lines_" + way, 1 << index);
      }
    }

    private static String wire(String name) {
      return "\\" + name + " ";
    }

    private String ofWay(String name, int way) {
      return wire(name) + (geometry.ways() > 1 ? "[" + way + "]" : "");
    }

    private String index(String of) {
      if (geometry.sets() == 1) {
        return "1'b0";
      }
      return of.equals("line")
          ? wire("line_fill.line") + "[" + (geometry.index().width() - 1) + ":0]"
          : wire(of);
    }

    private void never(String condition) {
      claims.add("assert (~(" + condition + "));");
    }

    /** What the test is about: a word that collided is that of no way that may be used. */
    private void used() {
      for (int way = 0; way < geometry.ways(); way++) {
        String collided = "data_collided[" + way + "]";
        String hit = ofWay(block ? "tag_compare_hits" : HITS_AHEAD, way);
        never("asked_valid & " + hit + " & " + ofWay("asked_ways", way) + " & " + collided);
        if (block) {
          never("tag_collided[" + way + "] & (asked_valid | flush_looked)");
        }
      }
    }

    /** What else has to be claimed of the state, so that one step proves all. */
    private void state() {
      String active = wire("line_fill.active");
      for (int way = 0; way < geometry.ways(); way++) {
        never("asked_valid & " + ofWay("asked_ways", way) + " & data_collided[" + way + "]");
        never(
            active
                + (geometry.ways() > 1 ? "& " + wire("line_fill.filled_way") + " == " + way : "")
                + (" & " + wire("valid_lines.lines_" + way) + "[" + lineIndex() + "]"));
      }
      never("asked_valid & ~asked_busy & " + active);
      never("flush_pending & asked_valid");
      never("flush_looked & (" + active + "| ~flush_pending)");
      String arrived = wire("line_fill.arrived");
      if (windows() == 1) {
        never(active + "& " + arrived);
        return;
      }
      String next = wire("line_fill.filled_window");
      never(active + "& " + arrived + "[" + next + "]");
      for (int window = 0; window < windows(); window++) {
        int behind = (window + 1) % windows();
        never(
            active
                + ("& " + arrived + "[" + window + "] & ~" + arrived + "[" + behind + "]")
                + (" & " + next + " != " + behind));
      }
    }

    private String lineIndex() {
      return geometry.sets() == 1 ? "0" : index("line");
    }

    private String place() {
      int bits = Integer.numberOfTrailingZeros(windows()) + geometry.index().width();
      return bits == 0 ? "1'b0" : wire("fetch_number") + "[" + (bits - 1) + ":0]";
    }

    /** A module around the cache's text, whose wires are its outputs, with the claims. */
    String text(Circuit cache) {
      List<Port> inputs =
          cache.ports().stream().filter(p -> p.direction() == Port.Direction.INPUT).toList();
      StringBuilder text = new StringBuilder("module claims (input clock, input reset");
      inputs.forEach(
          port -> text.append(", input [%d:0] ".formatted(port.width() - 1) + port.name()));
      text.append(");\n");
      wires.forEach(
          (name, width) -> text.append("wire [%d:0] %s;\n".formatted(width - 1, wire(name))));
      text.append(cache.name()).append(" cache (.clock(clock), .reset(reset)");
      inputs.forEach(port -> text.append(", .%1$s(%1$s)".formatted(port.name())));
      wires.keySet().forEach(name -> text.append(", .%1$s(%1$s)".formatted(wire(name))));
      int ways = geometry.ways();
      text.append(
          ");\nreg started = 1'b0;\nreg [%1$d:0] data_collided, tag_collided;\n"
              .formatted(ways - 1));
      text.append("always @(posedge clock) begin\nstarted <= started | reset;\nif (moves) begin\n");
      for (int way = 0; way < ways; way++) {
        text.append(
            "data_collided[%d] <= %s & line_fill_write_place == %s;\n"
                .formatted(way, ofWay("line_fill_write_ways", way), place()));
        text.append(
            "tag_collided[%d] <= %s & %s == %s;\n"
                .formatted(
                    way, ofWay("victim_ways", way), index("asked_index"), index("looked_index")));
      }
      text.append("end\nend\nalways @* if (started) begin\n");
      claims.forEach(claim -> text.append(claim).append('\n'));
      return text.append("end\nendmodule\n").toString();
    }

    /** Yosys' script: the RAMs and lanes are cut out, so that they may say anything. */
    String script(String cache, List<String> files) {
      List<String> own = List.of("cache", "fill", "valid", "replacement", "compare");
      Map<Boolean, List<String>> parts =
          files.stream()
              .collect(
                  Collectors.partitioningBy(
                      file ->
                          own.stream().anyMatch(p -> file.endsWith(unit.name() + "_" + p + ".v"))));
      String wanted = wires.keySet().stream().map(n -> "w:" + n).collect(Collectors.joining(" "));
      return String.join(
          "; ",
          "read_verilog " + String.join(" ", parts.get(true)),
          "read_verilog -lib " + String.join(" ", parts.get(false)),
          "hierarchy -top " + cache,
          "proc; flatten; expose " + wanted,
          "read_verilog -sv -formal claims.sv",
          "hierarchy -top claims",
          "proc; flatten; opt -fast; memory -nomap; memory_map; opt -fast",
          "sat -tempinduct -prove-asserts -ignore_unknown_cells -maxsteps 3 -verify claims");
    }
  }

  private ToolRun prove(FetchUnit unit, Circuit cache, Claims claims) throws IOException {
    Files.writeString(tree.resolve("claims.sv"), claims.text(cache));
    List<String> files = WrittenDesign.of(tree, unit.name()).verilog();
    String script = claims.script(cache.name(), files);
    return ToolRun.of("yosys", tree, 120, List.of("yosys", "-p", script));
  }

  /** Writes a unit and returns its cache. */
  private Circuit write(FetchUnit unit) {
    Design design = Realizer.on(DeviceProfile.sixInputDualOutput()).realize(unit, Style.ROM);
    OutputTree.at(tree).add(new Verilog()).write(design);
    return design.circuit().blocks().stream()
        .filter(block -> block.name().equals(unit.name() + "_cache"))
        .findFirst()
        .orElseThrow();
  }

  @Test
  void prove_everyCache_usesNoWordReadInTheCycleThatWritesIt() throws IOException {
    List<FetchUnit> units = FetchUnits.all();
    int step = Extent.of(5, 1);
    for (int i = 0; i < units.size(); i += step) {
      FetchUnit unit = units.get(i);
      ToolRun run = prove(unit, write(unit), new Claims(unit));
      assertWithMessage("%s: %s", unit, run.lastLines()).that(run.status()).isEqualTo(0);
      assertThat(run.output()).contains("Induction step proven: SUCCESS!");
    }
  }

  private void assertRefuted(FetchUnit unit, Circuit cache, Claims claims) throws IOException {
    ToolRun run = prove(unit, cache, claims);
    assertThat(run.status()).isEqualTo(1);
    assertThat(run.output()).contains("proof did fail!");
  }

  @Test
  void prove_cacheThatOffersAWindowAsItComes_fails() throws IOException {
    FetchUnit unit = FetchUnits.all().get(1);
    Circuit cache = write(unit);
    Path fill = tree.resolve("verilog/unit_1_fill.v");
    String text = Files.readString(fill);
    String broken = text.replace("? arrived[", "? arrived_now[");
    assertThat(broken).isNotEqualTo(text);
    Files.writeString(fill, broken);
    assertRefuted(unit, cache, new Claims(unit));
  }

  @Test
  void prove_thatNoWordCollides_fails() throws IOException {
    FetchUnit unit = FetchUnits.all().get(1);
    Circuit cache = write(unit);
    for (String collided : List.of("data_collided", "tag_collided")) {
      Claims claims = new Claims(unit);
      claims.never("|" + collided);
      assertRefuted(unit, cache, claims);
    }
  }
}

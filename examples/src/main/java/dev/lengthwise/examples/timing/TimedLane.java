package dev.lengthwise.examples.timing;

import dev.lengthwise.examples.set.ReferenceLane;
import dev.lengthwise.examples.suite.Suite;
import dev.lengthwise.examples.suite.SuiteFunction;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testbench.yardstick.BehaviouralVerilog;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;

/**
 * A lane whose clock is measured.
 *
 * @param lane what it handles
 * @param text the lane as a designer writes it by hand, in Verilog; its last module is it
 */
public record TimedLane(Predecoder lane, String text) {

  /**
   * RISC-V as a designer writes it: the lane of {@link #riscv()}, by its first parcel. Its ports
   * are those of the lane that we emit.
   */
  private static final String RISCV =
      """
      module riscv_by_hand(input [15:0] code, output reg [4:0] length);
        always @* casez (code[6:0])
          7'b1111111: length = code[14:12] == 3'd7 ? 5'd0 : 5'd10 + {code[14:12], 1'b0};
          7'b0111111: length = 5'd8;
          7'b?011111: length = 5'd6;
          7'b?????11: length = 5'd4;
          default: length = 5'd2;
        endcase
      endmodule
      """;

  /**
   * Returns eight lanes by their names, those that take least time first.
   *
   * @return what makes each
   */
  public static Map<String, Supplier<TimedLane>> all() {
    Map<String, Supplier<TimedLane>> lanes = new LinkedHashMap<>();
    lanes.put("riscv", () -> new TimedLane(riscv(), RISCV));
    lanes.put("mcs51", () -> of(ofLengths("mcs51", "mcs51_length", 2)));
    lanes.put("jvm", () -> of(ofLengths("jvm", "jvm_length", 3)));
    lanes.put("sluice", () -> of(sluice()));
    lanes.put("reference_without_displacement", () -> of(ReferenceLane.read().lane(false)));
    lanes.put("reference", () -> of(NamedSet.of("reference").lane()));
    lanes.put("tidegate", () -> of(NamedSet.of("tidegate").lane()));
    lanes.put("ia32_defined", () -> of(NamedSet.of("ia32_defined").lane()));
    return lanes;
  }

  /**
   * Returns a lane of bytes.
   *
   * @param lane what it handles
   * @return the lane, whose text is written from its rows
   */
  public static TimedLane of(Predecoder lane) {
    return new TimedLane(lane, BehaviouralVerilog.of(lane));
  }

  private static Predecoder lane(LengthTable table, PrefixRules prefixes, int longest) {
    return Predecoder.builder(InstructionSet.of(table, prefixes, longest)).build();
  }

  /**
   * "The RISC-V Instruction Set Manual, volume I", expanded instruction-length encoding; what is
   * reserved for 192 bits and more is undefined.
   */
  private static Predecoder riscv() {
    LengthTable table =
        LengthTable.named("riscv")
            .unit(CodeUnit.WORD_LITTLE_ENDIAN)
            .map(
                "parcel",
                map -> {
                  for (String low : List.of("00", "01", "10")) {
                    map.rows("xxxx_xxxx_xxxx_xx" + low).bytes(2);
                  }
                  for (String low : List.of("0_xx", "1_0x", "1_10")) {
                    map.rows("xxxx_xxxx_xxx" + low + "11").bytes(4);
                  }
                  map.rows("xxxx_xxxx_xx01_1111").bytes(6).rows("xxxx_xxxx_x011_1111").bytes(8);
                  for (int n = 0; n < 7; n++) {
                    String field = Integer.toBinaryString(8 + n).substring(1);
                    map.rows("x" + field + "_xxxx_x111_1111").bytes(10 + 2 * n);
                  }
                  map.others().undefined();
                })
            .build();
    return lane(table, PrefixRules.NONE, 22);
  }

  /** Returns a set whose lengths are the first outputs of a function of the suite; 0 is none. */
  private static Predecoder ofLengths(String name, String function, int bits) {
    SuiteFunction lengths =
        Suite.functions().stream().filter(f -> f.name().equals(function)).findFirst().orElseThrow();
    LengthTable table =
        LengthTable.named(name)
            .map(
                "opcode",
                map -> {
                  for (int opcode = 0; opcode < 256; opcode++) {
                    int length = 0;
                    for (int bit = 0; bit < bits; bit++) {
                      var output = lengths.tables().outputs().get(bit);
                      boolean isOne = output.isCare(opcode) && output.isOn(opcode);
                      length |= isOne ? 1 << bit : 0;
                    }
                    if (length > 0) {
                      map.row(opcode).bytes(length);
                    }
                  }
                  map.others().undefined();
                })
            .build();
    return lane(table, PrefixRules.NONE, (1 << bits) - 1);
  }

  /** The set of the README's smallest example. */
  static Predecoder sluice() {
    OperandSpecifier place =
        OperandSpecifier.named("place").when("0xxx_xxxx", 0).when("1xxx_xxxx", 1).build();
    LengthTable table =
        LengthTable.named("sluice")
            .mode("wide")
            .map(
                "base",
                map ->
                    map.rows(0x00, 0x3f)
                        .bytes(1)
                        .rows(0x40, 0x5f)
                        .bytes(2)
                        .specifier(place)
                        .rows(0x60, 0x6f)
                        .bytes(2)
                        .grows("wide", 1)
                        .others()
                        .undefined())
            .build();
    return lane(table, PrefixRules.builder().flips(0xf0, "wide").build(), 8);
  }
}

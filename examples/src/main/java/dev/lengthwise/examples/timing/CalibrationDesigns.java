package dev.lengthwise.examples.timing;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.cache.TagPlace;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.PipelineCut;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.table.CodeUnit;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.OpcodeMap;
import dev.lengthwise.table.OperandSpecifier;
import dev.lengthwise.table.PrefixRules;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.function.Supplier;

/**
 * What the delays of the four-input device are fitted to: lanes, rows and fetch units of
 * instruction sets that are drawn at random. None is among the designs that show how good the
 * estimates are.
 */
public final class CalibrationDesigns {

  private static final int OPCODE_BITS = 8;
  private static final int OPCODES = 1 << OPCODE_BITS;

  /** What flips the mode of a set, where it has one. */
  private static final int PREFIX = 0xf0;

  private CalibrationDesigns() {}

  /**
   * Returns them by their names, those that take least time first.
   *
   * @return what makes each
   */
  public static Map<String, Supplier<Design>> all() {
    Map<String, Supplier<Design>> designs = new LinkedHashMap<>();
    for (int specifiers = 0; specifiers < 2; specifiers++) {
      for (Style style : Style.values()) {
        Predecoder lane = lane(specifiers);
        designs.put(name(specifiers) + '_' + style.label(), () -> realizer().realize(lane, style));
      }
    }
    Predecoder larger = lane(2);
    designs.put(name(2) + "_rom", () -> realizer().realize(larger, Style.ROM));
    for (int bits = 4; bits < 8; bits++) {
      Predecoder lane = narrowLane(bits);
      for (Style style : List.of(Style.ROM, Style.LUT_NETWORK)) {
        designs.put(
            "drawn_" + bits + "_bits_" + style.label(), () -> realizer().realize(lane, style));
      }
    }
    Predecoder word = wordLane();
    for (Style style : List.of(Style.ROM, Style.LUT_NETWORK)) {
      designs.put("drawn_word_" + style.label(), () -> realizer().realize(word, style));
    }
    put(designs, "drawn_0_row_four", row(0, 4));
    put(designs, "drawn_1_row_four_cut", row(1, 4).cut(PipelineCut.AFTER_LANES));
    put(designs, "drawn_0_row_eight_cut", row(0, 8).cut(PipelineCut.AFTER_LANES));
    putUnit(designs, "drawn_0_fetch_unit", row(0, 4), 1);
    putUnit(designs, "drawn_1_fetch_unit", row(1, 4).cut(PipelineCut.AFTER_LANES), 2);
    return designs;
  }

  private static String name(int specifiers) {
    return "drawn_" + specifiers;
  }

  private static Realizer realizer() {
    return Realizer.on(DeviceProfile.fourInput());
  }

  private static LaneArray.Builder row(int specifiers, int windowBytes) {
    return LaneArray.builder(lane(specifiers), windowBytes);
  }

  private static void put(
      Map<String, Supplier<Design>> designs, String name, LaneArray.Builder row) {
    LaneArray named = row.name(name).build();
    designs.put(name, () -> realizer().realize(named, Style.BANKED));
  }

  private static void putUnit(
      Map<String, Supplier<Design>> designs, String name, LaneArray.Builder row, int ways) {
    LaneArray array = row.build();
    CacheGeometry geometry = new CacheGeometry(512 * ways, ways, 8, 18, array.windowBytes());
    InstructionCache cache =
        InstructionCache.named(name + "_cache", geometry).tags(TagPlace.BLOCK_RAM).build();
    designs.put(name, () -> realizer().realize(FetchUnit.of(name, cache, array), Style.BANKED));
  }

  /** A set of bytes: runs of opcodes of one length each, some behind a specifier or a mode. */
  private static Predecoder lane(int specifiers) {
    Random random = new Random(100 + specifiers);
    List<OperandSpecifier> drawn = new ArrayList<>();
    for (int i = 0; i < specifiers; i++) {
      OperandSpecifier.Builder specifier = OperandSpecifier.named("place" + i);
      for (String top : List.of("00", "01", "10", "11")) {
        specifier.when(top + "xx_x0xx", random.nextInt(3)).when(top + "xx_x1xx", random.nextInt(5));
      }
      drawn.add(specifier.build());
    }
    LengthTable table =
        LengthTable.named(name(specifiers))
            .mode("wide")
            .map("base", map -> runs(map, drawn, random))
            .build();
    return Predecoder.builder(
            InstructionSet.of(table, PrefixRules.builder().flips(PREFIX, "wide").build(), 12))
        .build();
  }

  private static void runs(OpcodeMap.Builder map, List<OperandSpecifier> drawn, Random random) {
    for (int from = 0; from < OPCODES; ) {
      int end = from < PREFIX ? PREFIX : OPCODES;
      int to = Math.min(end, from + (1 << random.nextInt(5))) - 1;
      if (from == PREFIX) {
        from++;
        continue;
      }
      int kind = random.nextInt(8);
      if (kind > 0) {
        int bytes = 1 + random.nextInt(4);
        if (kind < 3 && !drawn.isEmpty()) {
          map.rows(from, to).bytes(bytes + 1).specifier(drawn.get(random.nextInt(drawn.size())));
        } else if (kind == 3) {
          map.rows(from, to).bytes(bytes).grows("wide", 1 + random.nextInt(2));
        } else {
          map.rows(from, to).bytes(bytes);
        }
      }
      from = to + 1;
    }
    map.others().undefined();
  }

  /** A set of bytes of which few bits say the length: one to three levels. */
  private static Predecoder narrowLane(int bits) {
    Random random = new Random(110 + bits);
    LengthTable table =
        LengthTable.named("drawn_" + bits + "_bits")
            .map(
                "base",
                map -> {
                  for (int code = 0; code < 1 << bits; code++) {
                    map.rows(code << OPCODE_BITS - bits, (code + 1 << OPCODE_BITS - bits) - 1)
                        .bytes(1 + random.nextInt(4));
                  }
                })
            .build();
    return Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE, 4)).build();
  }

  /** A set of words: the length by seven bits that lie apart. */
  private static Predecoder wordLane() {
    Random random = new Random(103);
    LengthTable table =
        LengthTable.named("drawn_word")
            .unit(CodeUnit.WORD_LITTLE_ENDIAN)
            .map(
                "parcel",
                map -> {
                  for (int bits = 0; bits < 128; bits++) {
                    String key = String.format(Locale.ROOT, "%7s", Integer.toBinaryString(bits));
                    String code = key.replace(' ', '0');
                    if (random.nextInt(8) > 0) {
                      map.rows(
                              code.substring(0, 3)
                                  + "x_xx"
                                  + code.substring(3, 5)
                                  + "_xxxx_xx"
                                  + code.substring(5))
                          .bytes(2 * (1 + random.nextInt(5)));
                    }
                  }
                  map.others().undefined();
                })
            .build();
    return Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE, 10)).build();
  }
}

package dev.lengthwise.isa.set;

import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.SetProvider;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.List;

/** IA-32 by the name {@code ia32}: 32-bit code, no extensions, and lanes made by hand. */
public final class Ia32Set implements SetProvider {

  private static final List<Predecoder.LeftOut> VEX =
      List.of(new Predecoder.LeftOut(Ia32.ONE_BYTE, 0xc4, 0xc5));

  private static final List<Predecoder.LeftOut> THREE_BYTE =
      List.of(
          new Predecoder.LeftOut(Ia32.TWO_BYTE, 0x38, 0x38),
          new Predecoder.LeftOut(Ia32.TWO_BYTE, 0x3a, 0x3a));

  private static final List<Predecoder.LeftOut> TWO_BYTE =
      List.of(new Predecoder.LeftOut(Ia32.ONE_BYTE, 0x0f, 0x0f));

  private static final List<Predecoder.LeftOut> X87 =
      List.of(new Predecoder.LeftOut(Ia32.ONE_BYTE, 0xd8, 0xdf));

  /** Makes the provider. */
  public Ia32Set() {}

  @Override
  public String name() {
    return "ia32";
  }

  @Override
  public InstructionSet instructionSet() {
    return Ia32.instructionSet();
  }

  @Override
  public String title() {
    return "IA-32";
  }

  @Override
  public int modes() {
    return Ia32.MODES_32;
  }

  /** The ELF machine number of IA-32, and that of its use in small devices (from memory). */
  @Override
  public List<Integer> machines() {
    return List.of(3, 6);
  }

  @Override
  public List<Predecoder> lanes(UndefinedRows undefined) {
    Ladder ladder = new Ladder(instructionSet(), undefined, new ArrayList<>());
    PrefixTreatment none = PrefixTreatment.NOT_HANDLED;
    PrefixTreatment each = PrefixTreatment.ONE_UNIT_EACH;
    ladder.add("opcode", none, SpecifierDepth.NONE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("opcode_prefix", each, SpecifierDepth.NONE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("opcode_two_byte", each, SpecifierDepth.NONE, VEX, THREE_BYTE);
    ladder.add("modrm", each, SpecifierDepth.BYTE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("modrm_two_byte", each, SpecifierDepth.BYTE, VEX, THREE_BYTE);
    ladder.add("sib", each, SpecifierDepth.INDEX_BYTE, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("sib_two_byte", each, SpecifierDepth.INDEX_BYTE, VEX, THREE_BYTE);
    ladder.add("groups", each, SpecifierDepth.EVERYTHING, VEX, THREE_BYTE, X87, TWO_BYTE);
    ladder.add("groups_two_byte", each, SpecifierDepth.EVERYTHING, VEX, THREE_BYTE, X87);
    ladder.add("x87_two_byte", each, SpecifierDepth.EVERYTHING, VEX, THREE_BYTE);
    ladder.add("x87_three_byte", each, SpecifierDepth.EVERYTHING, VEX);
    ladder.add("all_rows", each, SpecifierDepth.EVERYTHING);
    ladder.add("folded1", PrefixTreatment.folded(1), SpecifierDepth.EVERYTHING);
    ladder.add("folded2", PrefixTreatment.folded(2), SpecifierDepth.EVERYTHING);
    return List.copyOf(ladder.lanes);
  }

  private record Ladder(InstructionSet set, UndefinedRows undefined, List<Predecoder> lanes) {

    @SafeVarargs
    final void add(
        String rung,
        PrefixTreatment prefixes,
        SpecifierDepth depth,
        List<Predecoder.LeftOut>... leftOut) {
      Predecoder.Builder lane =
          Predecoder.builder(set)
              .name("ia32_" + rung)
              .prefixes(prefixes)
              .depth(depth)
              .undefinedRows(undefined);
      for (List<Predecoder.LeftOut> rows : leftOut) {
        rows.forEach(r -> lane.leaveOut(r.map(), r.from(), r.to()));
      }
      lanes.add(lane.build());
    }
  }
}

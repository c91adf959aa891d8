package dev.lengthwise.study;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.OpcodeMap;
import java.util.EnumSet;
import java.util.List;
import java.util.SplittableRandom;

/** Lanes with random restrictions of every kind. */
public final class RandomLanes {

  private static final List<PrefixTreatment> TREATMENTS =
      List.of(
          PrefixTreatment.ONE_UNIT_EACH,
          PrefixTreatment.NOT_HANDLED,
          PrefixTreatment.folded(1),
          PrefixTreatment.folded(3));

  private static final List<SpecifierDepth> DEPTHS =
      List.copyOf(EnumSet.allOf(SpecifierDepth.class));

  private final InstructionSet set;
  private final SplittableRandom random;

  public RandomLanes(InstructionSet set, long seed) {
    this.set = set;
    this.random = new SplittableRandom(seed);
  }

  public Predecoder next() {
    Predecoder.Builder builder = Predecoder.builder(set);
    PrefixTreatment ofModes = TREATMENTS.get(random.nextInt(4));
    set.prefixes()
        .prefixes()
        .forEach(
            (code, prefix) ->
                builder.prefix(
                    code,
                    prefix.effects().isEmpty() ? TREATMENTS.get(random.nextInt(4)) : ofModes));
    builder.depth(DEPTHS.get(random.nextInt(4)));
    if (random.nextBoolean()) {
      builder.lookahead(1 + random.nextInt(6));
    }
    if (random.nextBoolean()) {
      builder.longest(1 + random.nextInt(9));
    }
    if (random.nextInt(4) == 0) {
      builder.undefinedRows(UndefinedRows.ANYTHING);
    }
    leaveOut(builder, random.nextInt(200));
    return builder.build();
  }

  /** Leaves out random rows. */
  void leaveOut(Predecoder.Builder builder, int rows) {
    for (int i = 0; i < rows; i++) {
      List<OpcodeMap> maps = set.table().maps();
      OpcodeMap map = maps.get(random.nextInt(1 + random.nextInt(maps.size())));
      builder.leaveOut(map.name(), random.nextInt(map.unit().codes()));
    }
  }
}

package dev.lengthwise.study.advice;

import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.study.sweep.VariantSpace;
import dev.lengthwise.table.InstructionSet;
import java.util.BitSet;
import java.util.List;

/**
 * A point of a search.
 *
 * @param prefixes the treatment of all prefixes
 * @param depth how far bytes after the opcode are followed
 * @param undefined the answer where no opcode is defined
 * @param longest the longest length said, or {@link VariantSpace#ALL}
 * @param removed the units left out, as bits; never changed
 */
record LaneChoice(
    PrefixTreatment prefixes,
    SpecifierDepth depth,
    UndefinedRows undefined,
    int longest,
    BitSet removed) {

  LaneChoice withLongest(int bytes) {
    return new LaneChoice(prefixes, depth, undefined, bytes, removed);
  }

  LaneChoice without(Iterable<Integer> units) {
    BitSet more = (BitSet) removed.clone();
    units.forEach(more::set);
    return new LaneChoice(prefixes, depth, undefined, longest, more);
  }

  LaneChoice with(Iterable<Integer> units) {
    BitSet fewer = (BitSet) removed.clone();
    units.forEach(fewer::clear);
    return new LaneChoice(prefixes, depth, undefined, longest, fewer);
  }

  Predecoder lane(String name, InstructionSet set, List<RowUnit> units) {
    Predecoder.Builder lane =
        Predecoder.builder(set).name(name).prefixes(prefixes).depth(depth).undefinedRows(undefined);
    if (longest != VariantSpace.ALL) {
      lane.longest(longest);
    }
    removed.stream()
        .forEach(
            u -> units.get(u).leftOut().forEach(r -> lane.leaveOut(r.map(), r.from(), r.to())));
    return lane.build();
  }
}

package dev.lengthwise.realize.style;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.lane.LaneMapper;
import dev.lengthwise.lane.LaneTableMapper;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.NetworkOrder;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.row.LaneTable;
import dev.lengthwise.realize.gates.GateCover;
import dev.lengthwise.realize.lane.BankedWords;
import dev.lengthwise.realize.lane.LaneCore;
import dev.lengthwise.realize.lane.LutLane;
import dev.lengthwise.realize.lane.MapCore;
import dev.lengthwise.realize.lane.MappedWords;
import dev.lengthwise.realize.lane.WordLogic;
import dev.lengthwise.realize.marks.LateModes;
import dev.lengthwise.realize.row.SharedLane;
import dev.lengthwise.realize.row.SharedLutLane;
import dev.lengthwise.work.TimedSearch;
import dev.lengthwise.work.Work;
import java.util.Comparator;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Lanes that are networks of LUTs, mapped as a whole.
 *
 * @param settings what is mapped for
 * @param mostLevels the levels above which a network is lowered, at least 1
 */
public record NetworkStyle(MapperSettings settings, int mostLevels) implements LaneStyle {

  @Override
  public LaneCore core(LaneTable table, int prefixes, String name) {
    return core(table, prefixes, name, mapping(table, prefixes));
  }

  /**
   * Makes a lane of a mapping.
   *
   * @param table what the lane handles
   * @param prefixes the prefixes before that
   * @param name the circuit's name
   * @param mapping a mapping of that lane
   * @return the lane
   */
  public static LaneCore core(LaneTable table, int prefixes, String name, LaneMapping mapping) {
    Circuit circuit = new LutLane(table.lane(), prefixes, name, mapping).build();
    return LaneCore.of(table, circuit, mapping);
  }

  /**
   * Prepares a search that lasts a time.
   *
   * @param table what the lane handles
   * @param prefixes the prefixes before that
   * @return the search
   */
  public TimedSearch<LaneMapping> search(LaneTable table, int prefixes) {
    TimedSearch.Steps<LaneMapping> steps =
        new TimedSearch.Steps<>() {
          @Override
          public LaneMapping start(long seed) {
            return with(seed).mapping(table, prefixes);
          }

          @Override
          public LaneMapping goOn(LaneMapping best, long seed, long end) {
            return LaneMapper.shrink(best, settings.withSeed(seed), mostLevels);
          }
        };
    Comparator<LaneMapping> excess =
        Comparator.comparingInt(found -> Math.max(0, found.network().levels() - mostLevels));
    return new TimedSearch<>(
        steps,
        excess.thenComparing(LaneMapping::network, NetworkOrder.of(settings.objective())),
        found -> found.network().luts().size() + " LUTs, " + found.network().levels() + " levels",
        settings.seed());
  }

  private NetworkStyle with(long seed) {
    return new NetworkStyle(settings.withSeed(seed), mostLevels);
  }

  @Override
  public SharedLane shared(LaneArray array, LateModes late, Optional<LaneMapping> mapping) {
    return SharedLutLane.of(array, late, mapping.orElseThrow());
  }

  private LaneMapping mapping(LaneTable table, int prefixes) {
    LaneMapping best = Work.parallel(() -> best(table, prefixes));
    if (best.network().levels() <= mostLevels) {
      return best;
    }
    if (settings.objective() == Objective.DEPTH) {
      return LaneMapper.flatten(best, mostLevels, settings);
    }
    // What few levels leave to LUTs has fewer to lose than what few LUTs make of levels.
    MapperSettings flat = settings.with(Objective.DEPTH);
    LaneMapping low = new NetworkStyle(flat, mostLevels).mapping(table, prefixes);
    return low.network().levels() <= mostLevels
        ? LaneMapper.shrink(low, settings, mostLevels)
        : LaneMapper.flatten(best, mostLevels, settings);
  }

  /**
   * The lane mapped as a whole, or the gates of a lane of tables covered with LUTs if that is
   * better.
   */
  private LaneMapping best(LaneTable table, int prefixes) {
    LaneFunction shape = LaneFunctions.of(table);
    Supplier<LaneMapping> cover = Work.beside(() -> cover(table, prefixes, shape));
    Optional<LaneMapping> mapped = LaneMapper.map(shape, settings, mostLevels);
    LaneMapping covered = cover.get();
    if (mapped.isPresent() && mapped.get().isBetterThan(covered, settings.objective())) {
      return mapped.get();
    }
    LaneMapping shrunk = LaneMapper.shrink(covered, settings, mostLevels);
    return mapped.filter(own -> own.isBetterThan(shrunk, settings.objective())).orElse(shrunk);
  }

  /**
   * The gates of banks. Where code units are words, whose tables are too wide for banks, also those
   * of mapped tables, and the table of the whole lane where few bits matter: the best of them.
   */
  private LaneMapping cover(LaneTable table, int prefixes, LaneFunction shape) {
    LaneMapping banked = cover(table, prefixes, shape, new BankedWords(settings.lutInputs()));
    if (table.lane().instructionSet().table().unit().bytes() == 1) {
      return banked;
    }
    LaneMapping mapped = cover(table, prefixes, shape, new MappedWords(settings));
    LaneMapping covered = mapped.isBetterThan(banked, settings.objective()) ? mapped : banked;
    return LaneTableMapper.map(shape, settings)
        .filter(whole -> whole.isBetterThan(covered, settings.objective()))
        .orElse(covered);
  }

  private LaneMapping cover(LaneTable table, int prefixes, LaneFunction shape, WordLogic words) {
    Predecoder lane = table.lane();
    Circuit circuit = new MapCore(lane, prefixes, lane.name(), words).build();
    return GateCover.mapping(circuit, shape, settings.lutInputs());
  }
}

package dev.lengthwise.realize.style;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.lane.LaneMapper;
import dev.lengthwise.lane.LaneTableMapper;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LateLane;
import dev.lengthwise.logic.Objective;
import dev.lengthwise.logic.map.MapperSettings;
import dev.lengthwise.logic.network.DelayModel;
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
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * Lanes that are networks of LUTs, mapped as a whole.
 *
 * @param settings what is mapped for
 * @param mostLevels the levels above which a network is lowered, at least 1
 * @param late the inputs that are there later than others
 */
public record NetworkStyle(MapperSettings settings, int mostLevels, LateInputs late)
    implements LaneStyle {

  @Override
  public LaneCore core(LaneTable table, int prefixes, String name) {
    return core(table, prefixes, name, of(table, prefixes).mapping(table, prefixes));
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
  public LaneCore core(LaneTable table, int prefixes, String name, LaneMapping mapping) {
    DelayModel delays = of(table, prefixes).settings().delays();
    Circuit circuit = new LutLane(table.lane(), prefixes, name, mapping, delays).build();
    return LaneCore.of(table, circuit, mapping, delays);
  }

  /**
   * Makes a lane of a mapping in fewer levels.
   *
   * @param table what the lane handles
   * @param prefixes the prefixes before that
   * @param name the circuit's name
   * @param mapping a mapping of that lane
   * @return the lane; of more levels than the bound if none was found within it
   */
  public LaneCore lowered(LaneTable table, int prefixes, String name, LaneMapping mapping) {
    return core(table, prefixes, name, of(table, prefixes).lowered(mapping));
  }

  /** Returns the style with the arrivals of the inputs of one lane. */
  private NetworkStyle of(LaneTable table, int prefixes) {
    if (late.isEmpty()) {
      return this;
    }
    int skipped = prefixes * table.lane().instructionSet().table().unit().bytes();
    DelayModel delays = late.on(settings.delays(), LaneFunctions.of(table), skipped);
    return new NetworkStyle(settings.with(delays), mostLevels, late);
  }

  /**
   * Prepares a search that lasts a time.
   *
   * @param table what the lane handles
   * @param prefixes the prefixes before that
   * @return the search
   */
  public TimedSearch<LaneMapping> search(LaneTable table, int prefixes) {
    NetworkStyle own = of(table, prefixes);
    TimedSearch.Steps<LaneMapping> steps =
        new TimedSearch.Steps<>() {
          @Override
          public LaneMapping start(long seed) {
            return own.with(own.settings().withSeed(seed)).mapping(table, prefixes);
          }

          @Override
          public LaneMapping goOn(LaneMapping best, long seed, long end) {
            return LaneMapper.shrink(best, own.settings().withSeed(seed), mostLevels);
          }
        };
    return new TimedSearch<>(
        steps,
        Comparator.comparing(
            LaneMapping::network, own.settings().orderWithin(settings.delayOf(mostLevels))),
        found -> found.network().luts().size() + " LUTs, " + found.network().levels() + " levels",
        settings.seed());
  }

  private NetworkStyle with(MapperSettings other) {
    return new NetworkStyle(other, mostLevels, late);
  }

  @Override
  public SharedLane shared(LaneArray array, LateModes modes, Optional<LaneMapping> mapping) {
    return SharedLutLane.of(array, modes, mapping.orElseThrow(), settings.delays());
  }

  /** Maps a lane; the arrivals are its own. */
  private LaneMapping mapping(LaneTable table, int prefixes) {
    LaneMapping best = Work.parallel(() -> best(table, prefixes));
    if (settings.objective() == Objective.DEPTH) {
      return lowered(LaneMapper.flattenSmall(best, settings));
    }
    if (levels(best) <= mostLevels) {
      return best;
    }
    // What few levels leave to LUTs has fewer to lose than what few LUTs make of levels.
    LaneMapping low = with(settings.with(Objective.DEPTH)).mapping(table, prefixes);
    return levels(low) <= mostLevels
        ? LaneMapper.shrink(low, settings, mostLevels)
        : LaneMapper.flatten(best, mostLevels, settings);
  }

  private LaneMapping lowered(LaneMapping mapping) {
    return levels(mapping) <= mostLevels
        ? mapping
        : LaneMapper.flatten(mapping, mostLevels, settings);
  }

  private int levels(LaneMapping mapping) {
    return settings.delays().levels(mapping.network());
  }

  /**
   * The lane mapped as a whole, or the gates of a lane of tables covered with LUTs if that is
   * better; where modes are late, that which lets them choose at the end may be better still.
   */
  private LaneMapping best(LaneTable table, int prefixes) {
    LaneFunction shape = LaneFunctions.of(table);
    Supplier<LaneMapping> cover = Work.beside(() -> cover(table, prefixes, shape));
    Optional<LaneMapping> mapped = LaneMapper.map(shape, settings, mostLevels);
    LaneMapping covered = cover.get();
    if (mapped.isPresent() && mapped.get().isBetterThan(covered, settings.order())) {
      return late(mapped.get());
    }
    LaneMapping shrunk = LaneMapper.shrink(covered, settings, mostLevels);
    return late(mapped.filter(own -> own.isBetterThan(shrunk, settings.order())).orElse(shrunk));
  }

  /**
   * Where levels count first, lets late modes choose at the end if that is better, and moves late
   * inputs on towards the one LUT that each has to pass.
   */
  private LaneMapping late(LaneMapping mapping) {
    if (late.isEmpty() || settings.objective() == Objective.AREA) {
      return mapping;
    }
    LaneMapping best = mapping;
    List<String> modes = late.modes(mapping.shape());
    if (!modes.isEmpty()) {
      LaneMapping chosen = LateLane.choosing(mapping, modes);
      best = chosen.isBetterThan(best, settings.order()) ? chosen : best;
    }
    int least = late.mostLevels() + 1;
    return levels(best) > least ? LaneMapper.flatten(best, least, settings) : best;
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
    LaneMapping covered = mapped.isBetterThan(banked, settings.order()) ? mapped : banked;
    return LaneTableMapper.map(shape, settings)
        .filter(whole -> whole.isBetterThan(covered, settings.order()))
        .orElse(covered);
  }

  private LaneMapping cover(LaneTable table, int prefixes, LaneFunction shape, WordLogic words) {
    Predecoder lane = table.lane();
    Circuit circuit = new MapCore(lane, prefixes, lane.name(), words).build();
    return GateCover.mapping(circuit, shape, settings.lutInputs(), settings.delays());
  }
}

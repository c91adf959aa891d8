package dev.lengthwise.logic;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.SplittableRandom;

/**
 * Shrinks the network of a lane across its blocks, with what the whole lane leaves open.
 *
 * <p>The network is rewritten as far as a sample of points tells, then compared with the lane by
 * decision diagrams. If a step went too far, points at which it did join the sample and the step is
 * taken back, so every network returned is the lane's function.
 */
final class LanePolish {

  /** The points taken from one failed comparison, for each output that is wrong. */
  private static final int POINTS_OF_A_FAILURE = 48;

  private static final int RESUBSTITUTIONS_A_WINDOW = 3;

  /** The most LUTs of a window. */
  private static final int MOST_WINDOW = 4;

  /** The wirings tried for a window. */
  private static final int WIRINGS = 4;

  /** The searches for a level less that may fail. */
  private static final int MOST_FAILURES = 4;

  /** The levels saved that may turn out to be wrong, of which the sample learns. */
  private static final int MOST_LESSONS = 40;

  /** The LUTs looked at to save a level. */
  private static final int STEPS_A_LEVEL = 2_000;

  private static final String SHRUNK =
      "shrunk across the blocks: a LUT says what its role states where that matters to the length";

  /** The diagram nodes from which on the diagrams are made anew. */
  private static final int MOST_NODES = 1 << 22;

  private final LaneShape shape;
  private final int lutInputs;
  private final LaneSample sample;
  private final Random random;
  private LaneDiagram lane;
  private int[] wanted;
  private int care;

  LanePolish(LaneShape shape, int lutInputs, long seed) {
    this.shape = shape;
    this.lutInputs = lutInputs;
    this.sample = new LaneSample(shape, seed);
    this.random = new Random(seed);
    renew();
  }

  private void renew() {
    lane = new LaneDiagram(shape);
    care = lane.care();
    wanted = new int[shape.lengthBits()];
    for (int b = 0; b < wanted.length; b++) {
      wanted[b] = lane.bit(b);
    }
  }

  /**
   * Shrinks a mapping: LUTs first, and levels where that costs no LUT.
   *
   * @param mapping the mapping
   * @param steps how many LUTs are looked at
   */
  LaneMapping run(LaneMapping mapping, int steps) {
    SplittableRandom moves = new SplittableRandom(random.nextLong());
    LutNetwork best = mapping.network();
    List<LaneMapping.Role> roles = mapping.roles();
    WorkNet net = sample.workNet(best, 0);
    int batch = 64;
    boolean pressing = false;
    for (int done = 0; done < steps; done += batch) {
      // Every other batch presses for a level less.
      pressing = !pressing;
      int levels = Math.max(1, best.levels() - (pressing ? 1 : 0));
      new Resubstitution(net, lutInputs, levels, moves).run(batch);
      WindowSearch windows = new WindowSearch(net, lutInputs, best.levels(), moves);
      for (int i = 0; i < batch; i += RESUBSTITUTIONS_A_WINDOW) {
        windows.step(2 + moves.nextInt(MOST_WINDOW - 1), WIRINGS);
      }
      WorkNet.Clean next = net.clean(best.inputNames(), names(best));
      if (learn(next.network())) {
        batch = Math.max(16, batch / 2);
      } else {
        batch = Math.min(1024, batch * 2);
        roles = roles(roles, next, best.inputNames().size());
        best = next.network();
      }
      net = sample.workNet(best, 0);
    }
    List<String> codes = new ArrayList<>(mapping.codes());
    if (!codes.contains(SHRUNK)) {
      codes.add(SHRUNK);
    }
    return LaneMapping.prove(shape, best, roles, codes);
  }

  /**
   * Lowers the levels of a mapping, by further LUTs where it must.
   *
   * @param mapping the mapping
   * @param mostLevels the levels at which to stop
   * @param recovery the steps by which LUTs are won back after each LUT that was moved earlier
   * @param progress is told after each search for a level less
   * @return a mapping of fewer levels if they were found, not shrunk
   */
  LaneMapping flatten(
      LaneMapping mapping, int mostLevels, int recovery, LaneMapper.Progress progress) {
    LutNetwork best = mapping.network();
    List<LaneMapping.Role> roles = mapping.roles();
    int failed = 0;
    int lessons = 0;
    int searches = 0;
    while (best.levels() > mostLevels && failed < MOST_FAILURES && lessons < MOST_LESSONS) {
      WorkNet net = sample.workNet(best, best.luts().size());
      boolean lower = new LevelSearch(net, lutInputs, recovery, random).run(STEPS_A_LEVEL);
      WorkNet.Clean next = net.clean(best.inputNames(), names(best));
      if (!lower) {
        failed++;
      } else if (learn(next.network())) {
        lessons++;
      } else {
        roles = roles(roles, next, best.inputNames().size());
        best = next.network();
      }
      progress.report(++searches, best.luts().size());
    }
    return LaneMapping.prove(shape, best, roles, mapping.codes());
  }

  /** Lets every LUT keep the role of the one that it came from, others that of their reader. */
  private static List<LaneMapping.Role> roles(
      List<LaneMapping.Role> old, WorkNet.Clean next, int inputs) {
    LaneMapping.Role[] roles = new LaneMapping.Role[next.network().luts().size()];
    for (int slot = 0; slot < old.size(); slot++) {
      int lut = next.signals()[slot] - inputs;
      if (lut >= 0 && roles[lut] == null) {
        roles[lut] = old.get(slot);
      }
    }
    for (int lut = roles.length - 1; lut >= 0; lut--) {
      for (int signal : next.network().luts().get(lut).fanIns()) {
        if (signal >= inputs && roles[signal - inputs] == null) {
          roles[signal - inputs] = roles[lut];
        }
      }
    }
    return List.of(roles);
  }

  private static List<String> names(LutNetwork network) {
    return network.outputs().stream().map(LutNetwork.Output::name).toList();
  }

  /** Adds points at which a network is wrong to the sample; tells whether there were any. */
  private boolean learn(LutNetwork network) {
    if (lane.diagrams().size() > MOST_NODES) {
      renew();
    }
    DecisionDiagrams diagrams = lane.diagrams();
    int[] outputs = lane.outputs(network);
    boolean wrong = false;
    for (int b = 0; b < outputs.length; b++) {
      int where = diagrams.and(care, diagrams.differ(outputs[b], wanted[b]));
      wrong |= where != 0;
      for (int i = 0; i < POINTS_OF_A_FAILURE && where != 0; i++) {
        add(diagrams.randomPoint(where, random));
      }
    }
    return wrong;
  }

  private void add(boolean[] point) {
    int[] window = new int[shape.bytes()];
    int modes = 0;
    for (int i = 0; i < 8 * window.length; i++) {
      window[i >> 3] |= point[lane.variableOf(i)] ? 1 << (i & 7) : 0;
    }
    for (int m = 0; m < shape.modes().size(); m++) {
      modes |= point[lane.variableOf(8 * window.length + m)] ? 1 << m : 0;
    }
    sample.add(window, modes);
  }
}

package dev.lengthwise.realize;

import dev.lengthwise.cache.RamArray;
import dev.lengthwise.cache.RamFit;
import dev.lengthwise.cache.RamUse;
import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.Memory;
import dev.lengthwise.circuit.Node;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.lane.function.LaneFunction;
import dev.lengthwise.lane.function.LaneFunctions;
import dev.lengthwise.lane.network.LaneMapping;
import dev.lengthwise.lane.network.LaneProof;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.network.LutNetworkBuilder;
import dev.lengthwise.logic.network.Packing;
import dev.lengthwise.logic.network.WideMuxes;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.realize.cost.PathStep;
import dev.lengthwise.realize.fetch.FetchProbes;
import dev.lengthwise.realize.gates.CriticalPath;
import dev.lengthwise.realize.gates.GateCover;
import dev.lengthwise.realize.lane.LaneCore;
import dev.lengthwise.realize.row.RowTop;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The estimated cost of a design: its LUT network as it is, or its circuit's gates covered with
 * LUTs.
 *
 * @param blocks the cost of each block, the whole design last
 * @param path a longest path of the whole design
 */
record Costing(List<BlockCost> blocks, List<PathStep> path) {

  /** The cost of a row: the lane alone, all lanes, the marks, and the whole with its state. */
  static Costing ofRow(Design design, Design lane) {
    DeviceProfile device = design.device();
    List<BlockCost> blocks = new ArrayList<>();
    blocks.add(lane.total());
    for (Circuit.Instance instance : design.circuit().instances()) {
      Circuit block = instance.circuit();
      BlockCost known =
          lane.partCosts()
              .computeIfAbsent(
                  part(design, instance.name()),
                  part ->
                      cost(block.name(), GateCover.of(block, device.lutInputs()), device, false));
      blocks.add(known.withName(block.name()).withRegisters(registers(block)));
    }
    LutNetwork whole = GateCover.of(design.circuit(), device.lutInputs());
    blocks.add(
        cost(design.name(), whole, device, false).withRegisters(registers(design.circuit())));
    return new Costing(List.copyOf(blocks), CriticalPath.of(whole, null));
  }

  /** The cost of a fetch unit: the cache, what is behind it, and the whole with its RAM. */
  static Costing ofUnit(Design design) {
    DeviceProfile device = design.device();
    RamFit fit = RamFit.of(design.unit().orElseThrow().cache(), device);
    int blockRams = (int) fit.primitives(RamUse.Medium.BLOCK_RAM);
    int spread = 0;
    for (RamFit.Entry entry : fit.entries()) {
      RamArray own = entry.chosen().own();
      if (entry.chosen().use().medium() == RamUse.Medium.DISTRIBUTED_RAM) {
        spread += own.copies() * own.rows() * own.width();
      }
    }
    List<BlockCost> blocks = new ArrayList<>();
    for (Circuit.Instance instance : design.circuit().instances()) {
      Circuit block = instance.circuit();
      boolean cache = instance.name().equals(FetchProbes.CACHE);
      blocks.add(
          cost(block.name(), GateCover.of(block, device.lutInputs()), device, false)
              .withRegisters(registers(block))
              .withRam(cache ? blockRams : 0, cache ? spread : 0));
    }
    LutNetwork whole = GateCover.of(design.circuit(), device.lutInputs());
    blocks.add(
        cost(design.name(), whole, device, false)
            .withRegisters(registers(design.circuit()))
            .withRam(blockRams, spread));
    return new Costing(List.copyOf(blocks), CriticalPath.of(whole, null));
  }

  /** Counts the flip-flops of a block and of those inside it. */
  private static int registers(Circuit block) {
    int count = 0;
    for (Node node : block.nodes()) {
      count += node instanceof Node.Register ? node.width() : 0;
    }
    for (Memory memory : block.memoryWrites().keySet()) {
      count += memory.kind() == Memory.Kind.REGISTERS ? memory.depth() * memory.width() : 0;
    }
    for (Circuit.Instance instance : block.instances()) {
      count += registers(instance.circuit());
    }
    return count;
  }

  /** Names a part of a row so that rows of one lane that have the same part share its cost. */
  private static String part(Design design, String instance) {
    LaneArray array = design.array().orElseThrow();
    return String.join(
        "/",
        instance,
        Integer.toString(array.windowBytes()),
        array.end().label(),
        instance.equals(RowTop.MARKS) ? array.marking().label() : "");
  }

  static Costing of(Design design, List<LaneCore> cores) {
    DeviceProfile device = design.device();
    LaneMapping mapping = mapping(design, cores);
    LutNetwork whole = whole(design, mapping);
    boolean proved = cores.stream().allMatch(core -> isProved(core, device));
    List<BlockCost> blocks = new ArrayList<>();
    if (mapping != null) {
      byRole(mapping, whole, device, proved, blocks);
    } else {
      for (Circuit block : design.circuit().blocks()) {
        if (block != design.circuit()) {
          blocks.add(cost(block.name(), GateCover.of(block, device.lutInputs()), device, proved));
        }
      }
    }
    blocks.add(cost(design.name(), whole, device, proved));
    return new Costing(List.copyOf(blocks), CriticalPath.of(whole, mapping));
  }

  /** The cost of a lane as a whole, without blocks, path and proof. */
  static BlockCost unproved(Design design, List<LaneCore> cores) {
    return cost(design.name(), whole(design, mapping(design, cores)), design.device(), false);
  }

  /** Returns the LUT network that the whole design is, or null if it is made of gates. */
  private static LaneMapping mapping(Design design, List<LaneCore> cores) {
    boolean single = cores.size() == 1 && design.circuit() == cores.get(0).circuit();
    return single ? cores.get(0).mapping().orElse(null) : null;
  }

  private static LutNetwork whole(Design design, LaneMapping mapping) {
    return mapping != null
        ? mapping.network()
        : GateCover.of(design.circuit(), design.device().lutInputs());
  }

  private static BlockCost cost(
      String name, LutNetwork network, DeviceProfile device, boolean proved) {
    WideMuxes muxes = device.wideMuxes() ? WideMuxes.in(network) : WideMuxes.none();
    return new BlockCost(
        name,
        network.luts().size(),
        Packing.of(network, device.pairInputs(), muxes).sites().size(),
        muxes.count(),
        network.levels(),
        0,
        0,
        0,
        proved);
  }

  /**
   * Adds one cost for each role: the LUTs of the block, their own levels, sites as of LUTs alone.
   */
  private static void byRole(
      LaneMapping mapping,
      LutNetwork network,
      DeviceProfile device,
      boolean proved,
      List<BlockCost> blocks) {
    Map<String, List<Integer>> luts = new LinkedHashMap<>();
    for (int i = 0; i < network.luts().size(); i++) {
      LaneMapping.Role role = mapping.roles().get(i);
      luts.computeIfAbsent(role.block() + "_at_" + role.position(), k -> new ArrayList<>()).add(i);
    }
    int inputs = network.inputNames().size();
    luts.forEach(
        (block, members) -> {
          LutNetwork part = part(network, members);
          blocks.add(
              new BlockCost(
                  block,
                  members.size(),
                  Packing.of(part, device.pairInputs()).sites().size(),
                  0,
                  members.stream().mapToInt(i -> network.level(inputs + i)).max().orElse(0)
                      - members.stream().mapToInt(i -> network.level(inputs + i)).min().orElse(1)
                      + 1,
                  0,
                  0,
                  0,
                  proved));
        });
  }

  /** Cuts some LUTs out of a network; what they read from others becomes an input. */
  private static LutNetwork part(LutNetwork network, List<Integer> members) {
    int inputs = network.inputNames().size();
    Map<Integer, Integer> place = new LinkedHashMap<>();
    for (int member : members) {
      for (int signal : network.luts().get(member).fanIns()) {
        if (signal >= 0 && !members.contains(signal - inputs)) {
          place.putIfAbsent(signal, place.size());
        }
      }
    }
    LutNetworkBuilder builder =
        LutNetwork.builder(place.keySet().stream().map(signal -> "s" + signal).toList());
    for (int member : members) {
      LutNetwork.Lut lut = network.luts().get(member);
      int signal = builder.lut(lut.table(), lut.fanIns().stream().mapToInt(place::get).toArray());
      place.put(inputs + member, signal);
      builder.output("o" + member, signal);
    }
    return builder.build();
  }

  private static boolean isProved(LaneCore core, DeviceProfile device) {
    return core.mapping().map(LaneMapping::proved).orElseGet(() -> isProvedByGates(core, device));
  }

  private static boolean isProvedByGates(LaneCore core, DeviceProfile device) {
    LaneFunction shape = LaneFunctions.of(core.table());
    LutNetwork network = GateCover.ofLane(core.circuit(), shape, device.lutInputs());
    return LaneProof.run(shape, network).proved();
  }
}

package dev.lengthwise.cache;

import dev.lengthwise.cache.RamArray.Part;
import dev.lengthwise.cache.RamOption.Layout;
import dev.lengthwise.cache.RamUse.Medium;
import dev.lengthwise.device.DeviceProfile;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/** Lists the ways to keep each part of a cache on a device. */
final class RamOptions {

  private final InstructionCache cache;
  private final CacheGeometry geometry;
  private final DeviceProfile device;

  private RamOptions(InstructionCache cache, DeviceProfile device) {
    this.cache = cache;
    this.geometry = cache.geometry();
    this.device = device;
  }

  static List<RamFit.Entry> of(InstructionCache cache, DeviceProfile device) {
    RamOptions options = new RamOptions(cache, device);
    RamFit.Entry tags = options.tags();
    RamFit.Entry data = options.data();
    List<RamFit.Entry> entries = new ArrayList<>(List.of(tags, data));
    entries.add(options.valid(tags.chosen().use()));
    if (cache.replacement().stateBits(cache.geometry().ways()) > 0) {
      entries.add(options.replacement());
    }
    if (cache.predecode().storedBits() > 0) {
      entries.add(options.marks(data.chosen().use()));
    }
    return entries;
  }

  private RamFit.Entry tags() {
    int ways = geometry.ways();
    int width = geometry.tag().width();
    RamArray each = new RamArray(Part.TAGS, ways, geometry.sets(), width);
    Optional<RamOption> block = option(each, Layout.EACH_WAY, Medium.BLOCK_RAM);
    Optional<RamOption> ahead = option(each, Layout.EACH_WAY, Medium.DISTRIBUTED_RAM);
    boolean inBlock = cache.tags() == TagPlace.BLOCK_RAM;
    List<RamOption> others = new ArrayList<>();
    if (ways > 1) {
      RamArray together = new RamArray(Part.TAGS, 1, geometry.sets(), ways * width);
      option(together, Layout.SIDE_BY_SIDE, Medium.BLOCK_RAM).ifPresent(others::add);
    }
    (inBlock ? ahead : block).ifPresent(others::add);
    return new RamFit.Entry((inBlock ? block : ahead).orElseThrow(), others);
  }

  private RamFit.Entry data() {
    int ways = geometry.ways();
    int rows = geometry.sets() * geometry.lineWindows();
    int width = 8 * geometry.windowBytes();
    RamArray each = new RamArray(Part.DATA, ways, rows, width);
    List<RamOption> others = new ArrayList<>();
    if (ways > 1) {
      RamArray together = new RamArray(Part.DATA, 1, rows, ways * width);
      option(together, Layout.SIDE_BY_SIDE, Medium.BLOCK_RAM).ifPresent(others::add);
      RamArray stacked = new RamArray(Part.DATA, 1, ways * rows, width);
      option(stacked, Layout.STACKED, Medium.BLOCK_RAM).ifPresent(others::add);
    }
    option(each, Layout.EACH_WAY, Medium.DISTRIBUTED_RAM).ifPresent(others::add);
    return new RamFit.Entry(option(each, Layout.EACH_WAY, Medium.BLOCK_RAM).orElseThrow(), others);
  }

  private RamFit.Entry valid(RamUse tags) {
    RamArray each = new RamArray(Part.VALID, geometry.ways(), geometry.sets(), 1);
    List<RamOption> others = new ArrayList<>();
    option(each, Layout.EACH_WAY, Medium.DISTRIBUTED_RAM).ifPresent(others::add);
    others.add(beside(each, Layout.BESIDE_TAGS, tags));
    return new RamFit.Entry(RamOption.alone(Layout.EACH_WAY, RamUse.registers(each)), others);
  }

  private RamFit.Entry replacement() {
    int width = cache.replacement().stateBits(geometry.ways());
    RamArray whole = new RamArray(Part.REPLACEMENT, 1, geometry.sets(), width);
    RamOption registers = RamOption.alone(Layout.WHOLE, RamUse.registers(whole));
    List<RamOption> others = new ArrayList<>();
    Optional<RamOption> distributed = option(whole, Layout.WHOLE, Medium.DISTRIBUTED_RAM);
    if (distributed.isPresent()) {
      others.add(registers);
    }
    option(whole, Layout.WHOLE, Medium.BLOCK_RAM).ifPresent(others::add);
    return new RamFit.Entry(distributed.orElse(registers), others);
  }

  private RamFit.Entry marks(RamUse data) {
    RamArray apart =
        new RamArray(
            Part.MARKS,
            geometry.ways(),
            data.array().rows(),
            geometry.windowBytes() * cache.predecode().storedBits());
    RamOption beside = beside(apart, Layout.BESIDE_DATA, data);
    RamOption alone = option(apart, Layout.EACH_WAY, Medium.BLOCK_RAM).orElseThrow();
    boolean joined = beside.primitives() <= alone.primitives();
    List<RamOption> others = new ArrayList<>(List.of(joined ? alone : beside));
    option(apart, Layout.EACH_WAY, Medium.DISTRIBUTED_RAM).ifPresent(others::add);
    return new RamFit.Entry(joined ? beside : alone, others);
  }

  /** Widens the words of another part; the shape is chosen anew. */
  private RamOption beside(RamArray own, Layout layout, RamUse carrier) {
    RamArray other = carrier.array();
    RamArray both =
        new RamArray(own.part(), other.copies(), other.rows(), other.width() + own.width());
    return new RamOption(
        own, layout, best(both, carrier.medium()).orElseThrow(), Optional.of(carrier));
  }

  private Optional<RamOption> option(RamArray array, Layout layout, Medium medium) {
    return best(array, medium).map(use -> RamOption.alone(layout, use));
  }

  private Optional<RamUse> best(RamArray array, Medium medium) {
    return switch (medium) {
      case BLOCK_RAM -> RamUse.best(array, medium, device.blockRams());
      case DISTRIBUTED_RAM -> RamUse.best(array, medium, device.distributedRams());
      case REGISTERS -> Optional.of(RamUse.registers(array));
    };
  }
}

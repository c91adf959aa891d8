package dev.lengthwise.cache;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.table.DescriptionException;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;

/**
 * How the arrays of a cache fit the RAM of a device, and what would take less.
 *
 * <p>Options are compared by the bits of the primitives that they take, a register counting as one
 * bit: the one measure that block RAM, LUT RAM and registers share. What is scarce on a device is
 * the user's to weigh. All figures are estimates until a synthesis tool has placed the RAM.
 *
 * @param cache the cache
 * @param device the device
 * @param entries one for each part that stores anything, in the order of {@link RamArray.Part}
 */
public record RamFit(InstructionCache cache, DeviceProfile device, List<Entry> entries) {

  /**
   * A part of the cache.
   *
   * @param chosen how the cache keeps it
   * @param others the other ways to keep it, in a fixed order
   */
  public record Entry(RamOption chosen, List<RamOption> others) {

    /**
     * Copies the list.
     *
     * @param chosen see Entry
     * @param others see Entry
     */
    public Entry {
      Objects.requireNonNull(chosen, "chosen");
      others = List.copyOf(others);
    }

    /**
     * Returns the options that take fewer bits than the chosen one.
     *
     * @return the smallest first
     */
    public List<RamOption> smaller() {
      return others.stream()
          .filter(option -> option.bitsTaken() < chosen.bitsTaken())
          .sorted(Comparator.comparingLong(RamOption::bitsTaken))
          .toList();
    }
  }

  /**
   * Copies the list.
   *
   * @param cache see RamFit
   * @param device see RamFit
   * @param entries see RamFit
   */
  public RamFit {
    Objects.requireNonNull(cache, "cache");
    Objects.requireNonNull(device, "device");
    entries = List.copyOf(entries);
  }

  /**
   * Fits a cache to a device: data in block RAM, tags where the cache says, valid bits in registers
   * so that one cycle clears them, replacement state in LUT RAM or, without it, in registers, and
   * marks beside the data unless RAM of their own takes fewer primitives.
   *
   * @param cache the cache
   * @param device the device
   * @return the fit
   * @throws DescriptionException if the device has no RAM of a kind that the cache needs
   */
  public static RamFit of(InstructionCache cache, DeviceProfile device) {
    List<String> faults = new ArrayList<>();
    String subject = "ram fit of " + cache.name() + " on " + device.name();
    if (device.blockRams().isEmpty()) {
      faults.add(subject + ": the data need a shape of block ram, found none");
    }
    if (cache.tags() == TagPlace.DISTRIBUTED_RAM && device.distributedRams().isEmpty()) {
      faults.add(subject + ": tags a cycle ahead need a shape of distributed ram, found none");
    }
    DescriptionException.throwIfAny(faults);
    return new RamFit(cache, device, RamOptions.of(cache, device));
  }

  /**
   * Returns the entry of a part.
   *
   * @param part the part
   * @return the entry
   * @throws IllegalArgumentException if the cache stores nothing of the kind
   */
  public Entry entry(RamArray.Part part) {
    return entries.stream()
        .filter(entry -> entry.chosen().own().part() == part)
        .findFirst()
        .orElseThrow(
            () ->
                new IllegalArgumentException(
                    String.format(
                        Locale.ROOT,
                        "ram fit of %s: a part that stores bits is expected, found %s",
                        cache.name(),
                        part.label())));
  }

  /**
   * Returns the primitives that the chosen options take of a medium.
   *
   * @param medium the medium
   * @return block RAMs, LUTs or registers
   */
  public long primitives(RamUse.Medium medium) {
    Objects.requireNonNull(medium, "medium");
    return entries.stream()
        .map(Entry::chosen)
        .filter(option -> option.use().medium() == medium)
        .mapToLong(RamOption::primitives)
        .sum();
  }

  /**
   * Accounts for every part in words: what it takes, what stays empty, and what would be smaller.
   *
   * @return lines
   */
  public List<String> explain() {
    List<String> lines = new ArrayList<>();
    for (Entry entry : entries) {
      RamOption chosen = entry.chosen();
      String label = chosen.own().part().label();
      lines.add(
          String.format(
              Locale.ROOT, "%s, %s, %s%s", label, chosen.own(), chosen, empty(chosen.use())));
      for (RamOption option : entry.smaller()) {
        lines.add(
            String.format(
                Locale.ROOT,
                "%s would be smaller, %s%s",
                label,
                option,
                option.consequence().map(c -> "; " + c).orElse("")));
      }
    }
    return lines;
  }

  private static String empty(RamUse use) {
    if (use.medium() == RamUse.Medium.REGISTERS) {
      return "";
    }
    return String.format(
        Locale.ROOT,
        "; %d of %d rows empty (%s), %d spare bits in a word, %d of %d bits unused (%s)",
        use.rowsWasted(),
        use.rows(),
        percent(use.rowsWasted(), use.rows()),
        use.spareBits(),
        use.bitsWasted(),
        use.bitsTaken(),
        percent(use.bitsWasted(), use.bitsTaken()));
  }

  private static String percent(long part, long whole) {
    return String.format(Locale.ROOT, "%.1f%%", 100.0 * part / whole);
  }
}

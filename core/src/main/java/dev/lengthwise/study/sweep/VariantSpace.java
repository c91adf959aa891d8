package dev.lengthwise.study.sweep;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.name.HdlName;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.table.InstructionSet;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.regex.Pattern;

/**
 * A space of variants: a list of values for each dimension, and every combination of them.
 *
 * <p>The order of the variants is that of the dimensions, rows first, styles and devices last, and
 * of the values in each; the last dimension changes fastest. A variant's name joins its values by
 * hyphens, always all of them in the same order: rows, prefixes, depth, lookahead, longest length,
 * undefined rows, window and decoder width, for instance {@code
 * all-folded2-everything-la8-len15-any-w16-d2}. Style and device are not part of it; tables have
 * columns for them. Lanes have the name that {@link Predecoder.Builder} gives, as a variant's would
 * be too long in RTL. Immutable.
 */
public final class VariantSpace {

  /** A lookahead or longest length: as much as the description makes useful. */
  public static final int ALL = -1;

  private static final Pattern NAME = Pattern.compile("[a-z0-9]+(_[a-z0-9]+)*");

  private final Builder values;

  private VariantSpace(Builder values) {
    this.values = values;
  }

  /** Makes a front end of a window and a decoder width. */
  @FunctionalInterface
  public interface FrontEnds {

    /**
     * Makes a front end.
     *
     * @param windowBytes the window, in bytes
     * @param decoderWidth the decoder's items in a cycle
     * @return a front end of both
     */
    FrontEnd of(int windowBytes, int decoderWidth);
  }

  /**
   * Starts a space of one variant: all rows, prefixes one unit each, everything followed, lookahead
   * and longest length as useful, undefined rows not handled, style {@link Style#BANKED}, LUTs of
   * six inputs, a window of 16 bytes and a decoder of one item. A dimension that is given replaces
   * that value.
   *
   * @param set the instruction set
   * @return a builder
   */
  public static Builder builder(InstructionSet set) {
    return new Builder(Objects.requireNonNull(set, "set"));
  }

  /**
   * Starts a copy; sets of rows are added, other dimensions that are given replace these.
   *
   * @return a builder
   */
  public Builder toBuilder() {
    return new Builder(values);
  }

  /**
   * Returns the variants.
   *
   * @return every combination once, in canonical order
   * @throws IllegalArgumentException if a value is out of range for the instruction set
   */
  public List<Variant> variants() {
    List<Variant> variants = new ArrayList<>();
    for (Lane lane : lanes()) {
      for (int window : values.windows) {
        for (int decoder : values.decoders) {
          FrontEnd frontEnd = values.frontEnds.of(window, decoder);
          String name = String.format(Locale.ROOT, "%s-w%d-d%d", lane.name, window, decoder);
          for (Style style : values.styles) {
            for (DeviceProfile device : values.devices) {
              variants.add(new Variant(name, lane.lane, style, device, frontEnd));
            }
          }
        }
      }
    }
    return variants;
  }

  private record Lane(String name, Predecoder lane) {}

  private List<Lane> lanes() {
    List<Lane> lanes = new ArrayList<>();
    for (var rows : values.rows.entrySet()) {
      for (var prefixes : values.prefixes.entrySet()) {
        for (SpecifierDepth depth : values.depths) {
          for (int lookahead : values.lookaheads) {
            for (int longest : values.longest) {
              for (UndefinedRows undefined : values.undefined) {
                String name =
                    String.join(
                        "-",
                        rows.getKey(),
                        prefixes.getKey(),
                        label(depth),
                        "la" + label(lookahead),
                        "len" + label(longest),
                        undefined == UndefinedRows.ANYTHING ? "any" : "slow");
                Predecoder.Builder lane =
                    Predecoder.builder(values.set)
                        .prefixes(prefixes.getValue())
                        .depth(depth)
                        .undefinedRows(undefined);
                rows.getValue().forEach(r -> lane.leaveOut(r.map(), r.from(), r.to()));
                if (lookahead != ALL) {
                  lane.lookahead(lookahead);
                }
                if (longest != ALL) {
                  lane.longest(longest);
                }
                lanes.add(new Lane(name, lane.build()));
              }
            }
          }
        }
      }
    }
    return lanes;
  }

  private static String label(SpecifierDepth depth) {
    return depth.name().toLowerCase(Locale.ROOT);
  }

  private static String label(int value) {
    return value == ALL ? "all" : Integer.toString(value);
  }

  /** Collects the values of each dimension. */
  public static final class Builder {

    private final InstructionSet set;
    private final Map<String, List<Predecoder.LeftOut>> rows = new LinkedHashMap<>();
    private final Map<String, PrefixTreatment> prefixes = new LinkedHashMap<>();
    private Set<SpecifierDepth> depths = Set.of(SpecifierDepth.EVERYTHING);
    private Set<Integer> lookaheads = Set.of(ALL);
    private Set<Integer> longest = Set.of(ALL);
    private Set<UndefinedRows> undefined = Set.of(UndefinedRows.NOT_HANDLED);
    private Set<Integer> windows = Set.of(16);
    private Set<Integer> decoders = Set.of(1);
    private Set<Style> styles = Set.of(Style.BANKED);
    private Set<DeviceProfile> devices = Set.of(DeviceProfile.sixInputDualOutput());
    private FrontEnds frontEnds =
        (window, decoder) -> FrontEnd.builder(window).decoder(decoder).build();

    private Builder(InstructionSet set) {
      this.set = set;
    }

    private Builder(Builder other) {
      this.set = other.set;
      this.rows.putAll(other.rows);
      this.prefixes.putAll(other.prefixes);
      this.depths = other.depths;
      this.lookaheads = other.lookaheads;
      this.longest = other.longest;
      this.undefined = other.undefined;
      this.windows = other.windows;
      this.decoders = other.decoders;
      this.styles = other.styles;
      this.devices = other.devices;
      this.frontEnds = other.frontEnds;
    }

    /**
     * Adds a set of handled rows.
     *
     * @param name its name in variants' names: lower case letters and digits, in parts joined by
     *     underscores
     * @param leftOut the rows that the set leaves to the slow path
     * @return this builder
     * @throws IllegalArgumentException if the name is not legal or given before
     */
    public Builder rows(String name, List<Predecoder.LeftOut> leftOut) {
      if (!NAME.matcher(name).matches()) {
        throw new IllegalArgumentException(
            "variant space: a name of rows must be lower case letters, digits and single"
                + " underscores, found "
                + HdlName.quote(name));
      }
      if (rows.putIfAbsent(name, List.copyOf(leftOut)) != null) {
        throw repeated("the name of rows", name);
      }
      return this;
    }

    /**
     * Sets the treatments of all prefixes.
     *
     * @param treatments at least one
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder prefixes(PrefixTreatment... treatments) {
      prefixes.clear();
      for (PrefixTreatment treatment : distinct("a prefix treatment", List.of(treatments))) {
        prefixes.put(label(treatment), treatment);
      }
      return this;
    }

    private static String label(PrefixTreatment treatment) {
      return switch (treatment.kind()) {
        case ONE_UNIT_EACH -> "each";
        case NOT_HANDLED -> "none";
        case FOLDED -> "folded" + treatment.most();
      };
    }

    /**
     * Sets the depths.
     *
     * @param values at least one
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder depths(SpecifierDepth... values) {
      depths = distinct("a depth", List.of(values));
      return this;
    }

    /**
     * Sets the bytes that lanes look ahead.
     *
     * @param values at least one, each as {@link Predecoder.Builder#lookahead} or {@link #ALL}
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder lookaheads(Integer... values) {
      lookaheads = distinct("a lookahead", List.of(values));
      return this;
    }

    /**
     * Sets the longest lengths that lanes say.
     *
     * @param values at least one, each as {@link Predecoder.Builder#longest} or {@link #ALL}
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder longest(Integer... values) {
      longest = distinct("a longest length", List.of(values));
      return this;
    }

    /**
     * Sets what lanes say where no opcode is defined.
     *
     * @param values at least one
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder undefinedRows(UndefinedRows... values) {
      undefined = distinct("an answer for undefined rows", List.of(values));
      return this;
    }

    /**
     * Sets the windows.
     *
     * @param bytes at least one, each as {@link FrontEnd#windowBytes()}
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder windows(Integer... bytes) {
      windows = distinct("a window", List.of(bytes));
      return this;
    }

    /**
     * Sets the decoder widths.
     *
     * @param items at least one, each as {@link FrontEnd#decoderWidth()}
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder decoders(Integer... items) {
      decoders = distinct("a decoder width", List.of(items));
      return this;
    }

    /**
     * Sets how the rest of a front end follows from window and decoder width.
     *
     * @param maker makes front ends
     * @return this builder
     */
    public Builder frontEnds(FrontEnds maker) {
      frontEnds = Objects.requireNonNull(maker, "maker");
      return this;
    }

    /**
     * Sets the styles.
     *
     * @param values at least one
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder styles(Style... values) {
      styles = distinct("a style", List.of(values));
      return this;
    }

    /**
     * Sets the devices; tables tell them by the inputs of a LUT and by what rows are made of.
     *
     * @param values at least one
     * @return this builder
     * @throws IllegalArgumentException if there is none, or one twice
     */
    public Builder devices(DeviceProfile... values) {
      devices = distinct("a device", List.of(values));
      return this;
    }

    private static <T> Set<T> distinct(String what, List<T> values) {
      Set<T> found = new LinkedHashSet<>();
      for (T value : values) {
        if (!found.add(value)) {
          throw repeated(what, value);
        }
      }
      if (found.isEmpty()) {
        throw new IllegalArgumentException(
            "variant space: " + what + " is expected at least once, found none");
      }
      return found;
    }

    private static IllegalArgumentException repeated(String what, Object value) {
      return new IllegalArgumentException(
          "variant space: " + what + " is given once, found " + value + " again");
    }

    /**
     * Builds the space.
     *
     * @return the space
     */
    public VariantSpace build() {
      Builder copy = new Builder(this);
      if (copy.rows.isEmpty()) {
        copy.rows.put("all", List.of());
      }
      if (copy.prefixes.isEmpty()) {
        copy.prefixes(PrefixTreatment.ONE_UNIT_EACH);
      }
      return new VariantSpace(copy);
    }
  }
}

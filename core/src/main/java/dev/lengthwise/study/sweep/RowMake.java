package dev.lengthwise.study.sweep;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.make.ContentDigest;
import dev.lengthwise.study.workload.StudyStream;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * What the figures of a row depend on: names and values, as {@code decoder=2}, with blanks between
 * them. What is too large to be said is there as its name and a digest.
 */
final class RowMake {

  /** The text of any make. */
  public static final Pattern TEXT = Pattern.compile("([a-z_]+=[!-~]+( [a-z_]+=[!-~]+)*)?");

  public static final String DEVICE = "device";

  /** What tells streams apart. */
  static final Set<String> OF_STREAM = Set.of("code", "modes", "trace");

  /** What tells the lanes of one study apart. */
  static final Set<String> OF_LANE =
      Set.of("lookahead", "longest", "depth", "prefixes", "left_out");

  private static final int MOST_SAID = 60;

  private RowMake() {}

  static String of(Variant variant, StudyStream stream, Effort effort) {
    Predecoder lane = variant.lane();
    FrontEnd front = variant.frontEnd();
    Map<String, Object> parts = new LinkedHashMap<>();
    parts.put(
        "set",
        lane.instructionSet().table().name() + ':' + ContentDigest.of(lane.instructionSet()));
    parts.put("lookahead", lane.lookahead());
    parts.put("longest", lane.longest());
    parts.put("depth", label(lane.depth()));
    parts.put("prefixes", prefixes(lane));
    parts.put("undefined", label(lane.undefinedRows()));
    parts.put("left_out", leftOut(lane.leftOut()));
    parts.put(DEVICE, device(variant.device()));
    parts.put("effort", label(effort));
    parts.put("window", front.windowBytes());
    parts.put("queue", front.queueBytes());
    parts.put("decoder", front.decoderWidth());
    parts.put("slow_path", front.slowCycles());
    parts.put("redirect", front.redirectCycles());
    parts.put("miss", front.missCycles());
    parts.put(
        "cache",
        front
            .cache()
            .map(cache -> cache(cache.geometry()) + ':' + ContentDigest.of(cache))
            .orElse("none"));
    return parts.entrySet().stream()
            .map(part -> part.getKey() + '=' + part.getValue())
            .collect(Collectors.joining(" "))
        + ' '
        + stream.make();
  }

  /** Returns the parts of a make by their names. */
  public static Map<String, String> parts(String make) {
    Map<String, String> parts = new LinkedHashMap<>();
    for (String part : make.split(" ", -1)) {
      int end = part.indexOf('=');
      if (end > 0) {
        parts.put(part.substring(0, end), part.substring(end + 1));
      }
    }
    return parts;
  }

  static String device(DeviceProfile device) {
    String name = device.name().replaceAll("[^!-~]", "_");
    return name + ':' + ContentDigest.of(device);
  }

  private static String cache(CacheGeometry geometry) {
    return String.format(
        Locale.ROOT, "%dx%dx%d", geometry.capacityBytes(), geometry.ways(), geometry.lineBytes());
  }

  private static String prefixes(Predecoder lane) {
    Set<PrefixTreatment> treatments = new LinkedHashSet<>(lane.prefixes().values());
    if (treatments.size() > 1) {
      return "mixed:" + ContentDigest.of(lane.prefixes());
    }
    return treatments.stream()
        .map(t -> label(t.kind()) + (t.most() == 0 ? "" : t.most()))
        .findFirst()
        .orElse("none");
  }

  private static String leftOut(List<Predecoder.LeftOut> rows) {
    if (rows.isEmpty()) {
      return "none";
    }
    String text =
        rows.stream().map(row -> row.toString().replace(' ', ':')).collect(Collectors.joining("+"));
    return text.length() <= MOST_SAID ? text : rows.size() + "_ranges:" + ContentDigest.of(rows);
  }

  private static String label(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }
}

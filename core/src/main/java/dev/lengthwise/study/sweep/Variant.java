package dev.lengthwise.study.sweep;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.file.ShownText;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.fetch.FrontEnd;
import java.util.Objects;

/**
 * A design to be studied.
 *
 * @param name its name in tables; control characters are shown by their numbers
 * @param lane what a lane handles
 * @param style what it is made of
 * @param device what it is mapped to
 * @param frontEnd what it stands in
 */
public record Variant(
    String name, Predecoder lane, Style style, DeviceProfile device, FrontEnd frontEnd) {

  /**
   * Checks for null.
   *
   * @param name see Variant
   * @param lane see Variant
   * @param style see Variant
   * @param device see Variant
   * @param frontEnd see Variant
   */
  public Variant {
    name = ShownText.of(name);
    Objects.requireNonNull(lane, "lane");
    Objects.requireNonNull(style, "style");
    Objects.requireNonNull(device, "device");
    Objects.requireNonNull(frontEnd, "frontEnd");
  }
}

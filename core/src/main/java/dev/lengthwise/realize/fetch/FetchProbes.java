package dev.lengthwise.realize.fetch;

/**
 * The places in a fetch unit whose levels its paths are made of. The builders of this package name
 * what they build by these, so that no other name loses a path.
 */
public final class FetchProbes {

  /** The instance of the cache in a fetch unit. */
  public static final String CACHE = "window_cache";

  /** The instance of lanes and marks in a fetch unit. */
  public static final String LANES_AND_MARKS = "lanes_and_marks";

  /** The instance of lanes that look at what a line is filled with. */
  public static final String FILL_ROW = "fill_row";

  private static final String IN_CACHE = CACHE + "/";
  static final String TAG_COMPARE = "tag_compare";
  static final String HITS = "hits";
  static final String HIT = "hit";
  static final String WAY = "way";
  static final String SELECTED = "selected";
  static final String TAGS = "tags";
  private static final String WAY_TAGS = "way_tags_";
  private static final String WAY_ROW = "row_";

  private FetchProbes() {}

  /** Returns the point behind the comparison of each way's tag. */
  public static String hits() {
    return IN_CACHE + TAG_COMPARE + "." + HITS;
  }

  /** Returns the point at which the ways' comparisons are one. */
  public static String hit() {
    return IN_CACHE + TAG_COMPARE + "." + HIT;
  }

  /** Returns the point at which the way is known. */
  public static String way() {
    return IN_CACHE + TAG_COMPARE + "." + WAY;
  }

  /** Returns the point behind the way multiplexer. */
  public static String selected() {
    return IN_CACHE + SELECTED;
  }

  /** Returns the instance of a way's tag store in the cache. */
  static String wayTags(int way) {
    return WAY_TAGS + way;
  }

  /** Returns the memory of a way's tags. */
  public static String tagsOf(int way) {
    return IN_CACHE + wayTags(way) + "/" + TAGS;
  }

  /** Returns the instance of lanes before the way multiplexer, in the cache. */
  public static String wayRow(int way) {
    return WAY_ROW + way;
  }

  /** Returns a place in the cache. */
  public static String inCache(String place) {
    return IN_CACHE + place;
  }
}

package dev.lengthwise.realize.marks;

import dev.lengthwise.circuit.Circuit;
import dev.lengthwise.circuit.CircuitBuilder;
import dev.lengthwise.circuit.Signal;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.realize.cells.RowFields;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;

/** The blocks of {@link LogarithmicMarks}, each built once for all its instances. */
final class LogarithmicBlocks {

  static final String BEFORE = "distance";
  static final String BEHIND = "distance_behind";
  static final String WORD = "word";
  static final String WORD_BEHIND = "word_behind";
  static final String STARTS = "starts";
  static final String PREFIX = "prefix";

  /** Choices that one LUT of six inputs makes. */
  private static final int GROUP = 4;

  private final LaneArray array;
  private final LateModes late;
  private final int lengthBits;
  private final int longest;
  private final int unitBytes;
  private final Map<String, Circuit> known = new TreeMap<>();

  LogarithmicBlocks(LaneArray array, LateModes late) {
    this.array = array;
    this.late = late;
    this.lengthBits = array.lane().lengthBits();
    this.longest = array.lane().longest();
    this.unitBytes = array.lane().instructionSet().table().unit().bytes();
  }

  /** Names the input that says where a start at a byte of a stretch leads. */
  static String exit(int place, int word, int words) {
    return "exit_" + place + (words == 1 ? "" : "_word_" + word);
  }

  static String wordBehind(int word) {
    return WORD_BEHIND + "_" + word;
  }

  /** Returns the most that a distance can be behind a stretch. */
  static int mostBehind(int most, int bytes, int longest) {
    return Math.max(longest, most - bytes);
  }

  /** Returns the block that says the late word behind an item of one code unit. */
  Circuit words() {
    return known.computeIfAbsent("words", name -> buildWords());
  }

  private Circuit buildWords() {
    CircuitBuilder block =
        Circuit.named(array.name() + "_words", "The late word behind an item at one byte.");
    Signal prefix = block.input(PREFIX, late.prefixBits(), "what the byte is as prefix");
    Signal initial = block.input(MarkPorts.INITIAL, late.count(), "late modes before any prefix");
    for (int word = 0; word < late.words(); word++) {
      block.output(
          wordBehind(word),
          late.behind(block, prefix, block.constant(word, late.count()), initial),
          "late modes behind it, from late word " + word);
    }
    return block.build();
  }

  /**
   * Returns the block that passes a state through a stretch.
   *
   * @param bytes the bytes of the stretch, in [1, 8]
   * @param most the most that the distance before it can be
   * @param withStarts whether exits carry start bits
   */
  Circuit pass(int bytes, int most, boolean withStarts) {
    String name = "pass" + bytes + "_from" + most + (withStarts ? "_starts" : "");
    return known.computeIfAbsent(name, key -> buildPass(key, bytes, most, withStarts));
  }

  private Circuit buildPass(String name, int bytes, int most, boolean withStarts) {
    CircuitBuilder block =
        Circuit.named(
            array.name() + "_" + name,
            "The distance to the next start behind "
                + bytes
                + (bytes == 1 ? " byte" : " bytes")
                + ", from that before.");
    int bits = RowFields.bits(most);
    Signal before =
        block.input(BEFORE, bits, "bytes from the byte before to the next start; 0: none");
    Signal word = late.count() == 0 ? null : block.input(WORD, late.count(), "late modes there");
    int exitBits = lengthBits + late.count() + (withStarts ? bytes : 0);
    List<Signal> exits = new ArrayList<>();
    for (int place = 0; place < bytes; place++) {
      exits.add(exit(block, place, exitBits, word));
    }
    int behindBits = RowFields.bits(mostBehind(most, bytes, longest));
    List<Signal> passing = new ArrayList<>();
    passing.add(passed(block, before, bytes, behindBits));
    if (word != null) {
      passing.add(word);
    }
    if (withStarts) {
      passing.add(block.constant(0, bytes));
    }
    List<Signal> widened = new ArrayList<>();
    for (Signal exit : exits) {
      int rest = exitBits - lengthBits;
      Signal distance = block.extend(block.slice(exit, 0, lengthBits), behindBits);
      widened.add(
          rest == 0
              ? distance
              : block.suggested(
                  block.concat(List.of(distance, block.slice(exit, lengthBits, rest))),
                  "exit_" + widened.size() + "_wide"));
    }
    Signal passed = block.suggested(block.concat(passing), "what_passes");
    Signal chosen = block.suggested(chosen(block, before, widened, passed), "chosen");
    block.output(BEHIND, block.slice(chosen, 0, behindBits), "the same behind the stretch");
    if (word != null) {
      block.output(
          WORD_BEHIND, block.slice(chosen, behindBits, late.count()), "late modes at that start");
    }
    if (withStarts) {
      block.output(
          STARTS, block.slice(chosen, behindBits + late.count(), bytes), "start bits inside");
    }
    return block.build();
  }

  private Signal exit(CircuitBuilder block, int place, int bits, Signal word) {
    int words = place < unitBytes ? late.words() : 1;
    List<Signal> choices = new ArrayList<>();
    for (int i = 0; i < words; i++) {
      choices.add(
          block.input(
              exit(place, i, words),
              bits,
              "where a start at byte " + place + " leads: distance, late modes, start bits"));
    }
    return words == 1
        ? choices.get(0)
        : block.suggested(block.select(word, choices), "exit_" + place);
  }

  /** The distance behind a stretch in which nothing starts. */
  private static Signal passed(CircuitBuilder block, Signal before, int bytes, int behindBits) {
    int bits = Math.max(before.width(), behindBits);
    if (RowFields.bits(bytes) > before.width()) {
      return block.constant(0, behindBits);
    }
    Signal less =
        block.suggested(
            block.subtract(before, block.constant(bytes, before.width()), bits), "distance_left");
    Signal isPast = block.lessThan(block.constant(bytes, before.width()), before);
    Signal zero = block.constant(0, behindBits);
    return block.suggested(
        block.mux(isPast, block.slice(less, 0, behindBits), zero), "distance_passed");
  }

  /**
   * Chooses by distance: the exit at the byte where a start is, or what passes.
   *
   * <p>The first byte's exit is late, as the late word has chosen it. So the others are chosen
   * beside that, up to four in one LUT, and what is left is a choice of four again.
   */
  private Signal chosen(CircuitBuilder block, Signal before, List<Signal> exits, Signal passing) {
    int bytes = exits.size();
    int indexBits = bytes == 1 ? 0 : RowFields.bits(bytes - 1);
    Signal none = block.equal(before, 0);
    Signal limit = block.constant(bytes + 1L, Math.max(before.width(), RowFields.bits(bytes + 1)));
    Signal within = block.lessThan(block.extend(before, limit.width()), limit);
    Signal inside = block.named(block.and(List.of(block.not(none), within)), "starts_inside");
    if (bytes == 1) {
      return block.mux(inside, exits.get(0), passing);
    }
    Signal index = block.slice(before, 0, indexBits);
    Signal isFirst = block.suggested(block.equal(index, 1), "is_first");
    List<Signal> rows = new ArrayList<>();
    for (int row = 0; row < 1 << indexBits; row++) {
      // Row 0 is the last byte of a stretch that has as many bytes as there are rows.
      boolean other = row >= 2 && row <= bytes;
      rows.add(exits.get(other ? row - 1 : bytes - 1));
    }
    if (rows.size() <= GROUP) {
      Signal others = block.suggested(block.select(index, rows), "exit_of_others");
      Signal exit = block.mux(isFirst, exits.get(0), others);
      return block.mux(inside, block.suggested(exit, "exit_taken"), passing);
    }
    Signal low = block.slice(index, 0, 2);
    Signal high = block.bit(index, 2);
    Signal outside = block.suggested(block.not(inside), "outside");
    Signal group =
        block.concat(
            List.of(
                block.or(List.of(outside, block.not(block.or(List.of(high, isFirst))))),
                block.or(List.of(outside, high))));
    Signal lower = block.select(low, rows.subList(0, GROUP));
    Signal upper = block.select(low, rows.subList(GROUP, rows.size()));
    return block.select(
        block.suggested(group, "which_exit"),
        List.of(
            exits.get(0),
            block.suggested(lower, "exit_of_lower"),
            block.suggested(upper, "exit_of_upper"),
            passing));
  }
}

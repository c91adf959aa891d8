package dev.lengthwise.examples.suite;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static dev.lengthwise.examples.suite.PencilNetwork.has;
import static dev.lengthwise.examples.suite.PencilNetwork.majority;

import dev.lengthwise.logic.function.TruthTable;
import dev.lengthwise.logic.network.LutNetwork;
import dev.lengthwise.logic.proof.Equivalence;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

/** Each number of LUTs that the suite says to be known is that of a network here. */
class KnownNetworksTest {

  private static final Map<String, SuiteFunction> FUNCTIONS = new TreeMap<>();

  static {
    Suite.functions().forEach(function -> FUNCTIONS.put(function.name(), function));
  }

  /** What the tests below have shown, and are compared with in the end. */
  private final Set<String> shown = new TreeSet<>();

  private void shows(String name, int lutInputs, PencilNetwork drawn) {
    SuiteFunction function = FUNCTIONS.get(name);
    LutNetwork network = drawn.build();
    assertWithMessage(name).that(Equivalence.check(network, function.tables()).proved()).isTrue();
    assertThat(network.mostFanIns()).isAtMost(lutInputs);
    assertWithMessage("%s K=%s", name, lutInputs)
        .that(network.luts().size())
        .isEqualTo(function.known().get(lutInputs).luts());
    shown.add(name + " " + lutInputs);
  }

  @Test
  void known_isThatOfANetwork() {
    adders();
    comparators();
    counters();
    between("9sym", 3, 6);
    between("majority_9", 5, 9);
    gray();
    selectors();
    parity();
    outputsOfFewInputs();
    Set<String> stated = new TreeSet<>();
    FUNCTIONS.forEach(
        (name, function) ->
            function.known().keySet().forEach(lutInputs -> stated.add(name + " " + lutInputs)));
    assertThat(shown).isEqualTo(stated);
  }

  /** "Each output takes a LUT of its own" holds where no output is an input or another output. */
  @Test
  void known_aLutEach_isTheNumberOfDifferentOutputs() {
    for (SuiteFunction function : FUNCTIONS.values()) {
      function
          .known()
          .forEach(
              (lutInputs, known) -> {
                if (known.source().equals(SuiteFunction.A_LUT_EACH)) {
                  assertWithMessage(function.name())
                      .that(known.luts())
                      .isEqualTo(differentOutputs(function));
                }
              });
    }
  }

  private static int differentOutputs(SuiteFunction function) {
    Set<TruthTable> different = new HashSet<>();
    for (TruthTable output : function.tables().outputs()) {
      assertThat(output.isComplete()).isTrue();
      boolean free = output.onCount() == 0;
      for (int i = 0; i < output.inputs(); i++) {
        int bit = i;
        free |= output.equals(TruthTable.of(output.inputs(), x -> has(x, bit)));
      }
      if (!free) {
        different.add(output);
      }
    }
    return different.size();
  }

  private void adders() {
    for (int width : new int[] {2, 4, 5}) {
      adderOfSix(width, false);
      adderOfFour(width, false);
    }
    for (int width : new int[] {3, 6}) {
      adderOfSix(width, true);
      adderOfFour(width, true);
    }
  }

  private static String adder(int width, boolean carry) {
    return "add_" + width + "_" + width + (carry ? "_carry" : "");
  }

  private void adderOfSix(int width, boolean carry) {
    PencilNetwork net = new PencilNetwork(2 * width + (carry ? 1 : 0));
    int sum = carry ? net.countBit(0, 0, width, 2 * width) : net.countBit(0, 0, width);
    net.output(sum);
    for (int i = 1; i < width; i++) {
      sum =
          net.lut(
              w -> (Integer.bitCount(w & 3) + carryBehind(w >> 2)) % 2 == 1,
              i,
              width + i,
              i - 1,
              width + i - 1,
              sum);
      net.output(sum);
    }
    net.output(net.lut(w -> carryBehind(w) == 1, width - 1, 2 * width - 1, sum));
    shows(adder(width, carry), 6, net);
  }

  /** Returns the carry out of a place, by its two bits and that of the sum. */
  private static int carryBehind(int w) {
    return majority(w & 1, w >> 1 & 1, Integer.bitCount(w) & 1);
  }

  private void adderOfFour(int width, boolean carry) {
    PencilNetwork net = new PencilNetwork(2 * width + (carry ? 1 : 0));
    int into;
    int from;
    if (carry) {
      net.output(net.countBit(0, 0, width, 2 * width));
      into = net.countBit(1, 0, width, 2 * width);
      from = 1;
    } else {
      net.output(net.countBit(0, 0, width));
      int[] low = {0, width, 1, width + 1};
      net.output(net.lut(w -> has(sumOfTwo(w), 1), low));
      into = net.lut(w -> has(sumOfTwo(w), 2), low);
      from = 2;
    }
    for (int i = from; i < width; i++) {
      net.output(net.countBit(0, i, width + i, into));
      into = net.countBit(1, i, width + i, into);
    }
    net.output(into);
    shows(adder(width, carry), 4, net);
  }

  private static int sumOfTwo(int w) {
    return (w & 1) + (w >> 1 & 1) + 2 * (w >> 2 & 1) + 2 * (w >> 3);
  }

  private void comparators() {
    for (int width = 4; width <= 5; width++) {
      PencilNetwork net = new PencilNetwork(2 * width);
      int[] low = {0, 1, 2, width, width + 1, width + 2};
      List<Integer> high = new ArrayList<>();
      for (int i = 3; i < width; i++) {
        high.addAll(List.of(i, width + i));
      }
      int less = net.lut(w -> lessBehind(w), withFirst(net.lut(w -> (w & 7) < w >> 3, low), high));
      int equal =
          net.lut(
              w -> has(w, 0) && (w >> 1 & 1) == (w >> 2 & 1) && (w >> 3 & 1) == (w >> 4 & 1),
              withFirst(net.lut(w -> (w & 7) == w >> 3, low), high));
      net.output(less);
      net.output(equal);
      net.output(net.lut(w -> w == 0, less, equal));
      shows("compare_" + width + "_" + width, 6, net);
    }
    PencilNetwork six = new PencilNetwork(12);
    int less = six.lut(w -> (w & 7) < w >> 3, 0, 1, 2, 6, 7, 8);
    less = six.lut(KnownNetworksTest::lessBehind, less, 3, 9, 4, 10);
    six.output(six.lut(KnownNetworksTest::lessBehind, less, 5, 11));
    shows("less_6_6", 6, six);
    PencilNetwork four = new PencilNetwork(12);
    less = four.lut(w -> (w & 3) < w >> 2, 0, 1, 6, 7);
    for (int i = 2; i < 6; i++) {
      less = four.lut(KnownNetworksTest::lessBehind, less, i, 6 + i);
    }
    four.output(less);
    shows("less_6_6", 4, four);
  }

  /** Tells whether a is less by pairs of further bits, the lower ones' answer being bit 0. */
  private static boolean lessBehind(int w) {
    boolean less = has(w, 0);
    for (int rest = w >> 1; rest != 0; rest >>= 2) {
      less = (rest & 3) == 2 || less && (rest & 3) != 1;
    }
    return less;
  }

  private static int[] withFirst(int first, List<Integer> others) {
    List<Integer> all = new ArrayList<>(others);
    all.add(0, first);
    return all.stream().mapToInt(Integer::intValue).toArray();
  }

  private void counters() {
    PencilNetwork five = new PencilNetwork(5);
    int sum = five.countBit(0, 0, 1, 2);
    int carry = five.countBit(1, 0, 1, 2);
    five.output(five.countBit(0, sum, 3, 4));
    for (int bit = 1; bit <= 2; bit++) {
      five.output(carried(five, bit, carry, sum, 3, 4));
    }
    shows("rd53", 4, five);
    PencilNetwork seven = new PencilNetwork(7);
    sum = seven.countBit(0, 0, 1, 2);
    carry = seven.countBit(1, 0, 1, 2);
    seven.output(seven.countBit(0, sum, 3, 4, 5, 6));
    for (int bit = 1; bit <= 2; bit++) {
      seven.output(carried(seven, bit, carry, sum, 3, 4, 5, 6));
    }
    shows("rd73", 6, seven);
  }

  /** Adds a LUT for a bit of the number of ones, the first fan-in counting for two. */
  private static int carried(PencilNetwork net, int bit, int... fanIns) {
    return net.lut(w -> has(Integer.bitCount(w) + (w & 1), bit), fanIns);
  }

  private void between(String name, int least, int most) {
    PencilNetwork net = new PencilNetwork(9);
    int[] six = {0, 1, 2, 3, 4, 5};
    net.output(
        net.lut(
            w -> {
              int ones = (w & 7) + Integer.bitCount(w >> 3);
              return ones >= least && ones <= most;
            },
            net.countBit(0, six),
            net.countBit(1, six),
            net.countBit(2, six),
            6,
            7,
            8));
    shows(name, 6, net);
  }

  private void gray() {
    for (int lutInputs : new int[] {6, 4}) {
      PencilNetwork net = new PencilNetwork(8);
      int[] out = new int[8];
      out[7] = 7;
      for (int i = 6; i >= 0; i--) {
        out[i] = net.countBit(0, i, out[i + 1]);
      }
      for (int signal : out) {
        net.output(signal);
      }
      shows("gray_to_binary_8", lutInputs, net);
    }
  }

  private void selectors() {
    PencilNetwork six = new PencilNetwork(11);
    int low = six.lut(w -> has(w, w >> 4), 0, 1, 2, 3, 8, 9);
    int high = six.lut(w -> has(w, w >> 4), 4, 5, 6, 7, 8, 9);
    six.output(six.lut(w -> has(w, w >> 2), low, high, 10));
    shows("mux_8", 6, six);
    PencilNetwork four = new PencilNetwork(11);
    low = muxOfFours(four, 0);
    high = muxOfFours(four, 4);
    four.output(four.lut(w -> has(w, w >> 2), low, high, 10));
    shows("mux_8", 4, four);
    PencilNetwork decoder = new PencilNetwork(5);
    for (int code = 0; code < 32; code++) {
      int two = code & 3;
      int rest = code >> 2;
      int first = decoder.lut(w -> w == two, 0, 1);
      decoder.output(decoder.lut(w -> w == (rest << 1 | 1), first, 2, 3, 4));
    }
    shows("decoder_5", 4, decoder);
    PencilNetwork turnedByFour = new PencilNetwork(11);
    int[] turned = new int[8];
    for (int i = 0; i < 8; i++) {
      turned[i] = turnedByFour.lut(w -> has(w, w >> 4), i, i + 7 & 7, i + 6 & 7, i + 5 & 7, 8, 9);
    }
    for (int i = 0; i < 8; i++) {
      turnedByFour.output(turnedByFour.lut(w -> has(w, w >> 2), turned[i], turned[i + 4 & 7], 10));
    }
    shows("rotate_8", 6, turnedByFour);
    PencilNetwork byTwo = new PencilNetwork(11);
    int[] data = {0, 1, 2, 3, 4, 5, 6, 7};
    for (int stage = 0; stage < 3; stage++) {
      int[] next = new int[8];
      for (int i = 0; i < 8; i++) {
        next[i] =
            byTwo.lut(w -> has(w, w >> 2), data[i], data[i + 8 - (1 << stage) & 7], 8 + stage);
      }
      data = next;
    }
    for (int signal : data) {
      byTwo.output(signal);
    }
    shows("rotate_8", 4, byTwo);
  }

  /** Where the high select is 1, the first LUT hands the low one on. */
  private static int muxOfFours(PencilNetwork net, int from) {
    int first = net.lut(w -> has(w, 3) ? has(w, 2) : has(w, w >> 2 & 1), from, from + 1, 8, 9);
    return net.lut(
        w -> has(w, 3) ? has(w, has(w, 0) ? 2 : 1) : has(w, 0), first, from + 2, from + 3, 9);
  }

  private void parity() {
    for (int lutInputs : new int[] {6, 4}) {
      PencilNetwork net = new PencilNetwork(16);
      int parity = 0;
      for (int from = 1; from < 16; from += lutInputs - 1) {
        int[] fanIns = new int[lutInputs];
        fanIns[0] = parity;
        for (int i = 1; i < lutInputs; i++) {
          fanIns[i] = from + i - 1;
        }
        parity = net.countBit(0, fanIns);
      }
      net.output(parity);
      shows("parity_16", lutInputs, net);
    }
  }

  /** A LUT for each output, where all inputs fit in one. */
  private void outputsOfFewInputs() {
    for (SuiteFunction function : FUNCTIONS.values()) {
      int inputs = function.tables().inputs();
      for (int lutInputs : function.known().keySet()) {
        if (inputs <= lutInputs) {
          PencilNetwork net = new PencilNetwork(inputs);
          for (TruthTable output : function.tables().outputs()) {
            int[] fanIns = new int[inputs];
            for (int i = 0; i < inputs; i++) {
              fanIns[i] = i;
            }
            net.output(net.lut(output::isOn, fanIns));
          }
          shows(function.name(), lutInputs, net);
        }
      }
    }
  }
}

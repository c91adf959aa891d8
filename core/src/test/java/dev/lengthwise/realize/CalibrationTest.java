package dev.lengthwise.realize;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Marking;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.realize.cost.ClockEstimate;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.LengthTable;
import dev.lengthwise.table.PrefixRules;
import dev.lengthwise.testing.CoreSamples;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class CalibrationTest {

  private static final DeviceProfile DEVICE = DeviceProfile.sixInput();
  private static final double REGISTER = 0.8;
  private static final double LEVEL = 0.45;
  private static final double WIRE = 0.07;
  private static final double RAM = 2.1;

  /** Ten designs, from one level to many, one of them a fetch unit. */
  private static final Map<String, Design> DESIGNS = designs();

  @TempDir Path folder;

  private static Map<String, Design> designs() {
    LengthTable table =
        LengthTable.named("lock")
            .map("base", map -> map.rows(0x00, 0x9f).bytes(1).others().bytes(2))
            .build();
    Predecoder lane = Predecoder.builder(InstructionSet.of(table, PrefixRules.NONE)).build();
    Map<String, Design> designs = new LinkedHashMap<>();
    Realizer realizer = Realizer.on(DEVICE);
    designs.put("small_lane", realizer.realize(lane, Style.ROM));
    designs.put("lane", realizer.realize(CoreSamples.lane(), Style.ROM));
    designs.put("unit", realizer.realize(CoreSamples.unit(), Style.ROM));
    for (int window : new int[] {4, 8}) {
      for (Marking marking :
          List.of(Marking.fullRipple(), Marking.fullLogarithmic(), Marking.first(2))) {
        LaneArray row = LaneArray.builder(lane, window).marking(marking).build();
        designs.put("row_" + window + '_' + marking.label(), realizer.realize(row, Style.ROM));
      }
    }
    designs.put("row", realizer.realize(CoreSamples.row(), Style.ROM));
    designs.values().forEach(Design::total);
    return designs;
  }

  private static double mhz(Design design) {
    int levels = design.total().levels();
    double start = design.unit().isPresent() ? RAM : REGISTER;
    double doublings = ClockEstimate.doublings(design.total().luts(), levels);
    return 1000 / (start + levels * (LEVEL + WIRE * doublings));
  }

  private static void assertDelays(DeviceProfile fitted, double share) {
    double[][] pairs = {
      {fitted.registerDelay().fastest(), fitted.registerDelay().slowest(), REGISTER},
      {fitted.levelDelay().fastest(), fitted.levelDelay().slowest(), LEVEL},
      {fitted.wireDelay().fastest(), fitted.wireDelay().slowest(), WIRE},
      {fitted.blockRamDelay().fastest(), fitted.blockRamDelay().slowest(), RAM}
    };
    for (double[] pair : pairs) {
      assertThat((pair[0] + pair[1]) / 2).isWithin(share * pair[2] + 0.001).of(pair[2]);
    }
  }

  @Test
  void fit_exactClocks_findsTheDelaysThatMadeThem() {
    Calibration calibration = Calibration.on(DEVICE);
    for (Design design : DESIGNS.values()) {
      calibration = calibration.with(design, mhz(design));
    }
    Calibration.Result result = calibration.fit();
    assertDelays(result.profile(), 0.01);
    assertThat(result.heldShare()).isEqualTo(1.0);
    assertThat(result.meanError()).isLessThan(0.003);
    assertThat(result.profile().name()).isEqualTo("six_input");
    assertThat(result.profile().blockRams()).isEqualTo(DEVICE.blockRams());
  }

  /** Five in a hundred either way, each design a dozen times, and three wrong by half. */
  @Test
  void fit_noiseAndOutliers_staysNearAndHoldsTheShare() {
    SplittableRandom random = new SplittableRandom(1);
    Calibration calibration = Calibration.on(DEVICE);
    for (int round = 0; round < 12; round++) {
      for (Design design : DESIGNS.values()) {
        calibration = calibration.with(design, mhz(design) * (0.95 + 0.1 * random.nextDouble()));
      }
    }
    Calibration.Result clean = calibration.fit();
    Calibration.Result spoilt =
        calibration
            .with(DESIGNS.get("row"), 0.5 * mhz(DESIGNS.get("row")))
            .with(DESIGNS.get("lane"), 0.5 * mhz(DESIGNS.get("lane")))
            .with(DESIGNS.get("unit"), 1.5 * mhz(DESIGNS.get("unit")))
            .fit();
    for (Calibration.Result result : List.of(clean, spoilt)) {
      double total = 0;
      for (Design design : DESIGNS.values()) {
        ClockEstimate estimate =
            ClockEstimate.of(
                result.profile(),
                design.unit().isPresent(),
                design.total().luts(),
                design.criticalPath());
        double middle = Math.sqrt(estimate.lowMhz() * estimate.highMhz());
        assertWithMessage("%s", design.name()).that(middle).isWithin(0.03 * middle).of(mhz(design));
        total += estimate.highMhz() / estimate.lowMhz();
      }
      assertThat(result.heldShare()).isAtLeast(0.9);
      assertThat(total / DESIGNS.size()).isLessThan(1.12);
    }
    assertThat(spoilt.residuals().stream().filter(r -> r.error() > 0.3).count()).isEqualTo(3);
    Calibration.Result all = calibration.withShare(1).fit();
    assertThat(all.heldShare()).isEqualTo(1.0);
  }

  @Test
  void fit_tooLittle_isRefused() {
    Calibration calibration = Calibration.on(DEVICE);
    Design lane = DESIGNS.get("lane");
    for (int i = 0; i < 7; i++) {
      calibration = calibration.with(lane, 100);
    }
    assertThat(assertThrows(IllegalStateException.class, calibration::fit))
        .hasMessageThat()
        .isEqualTo("calibration: at least 8 clocks are expected, found 7");
    assertThat(assertThrows(IllegalStateException.class, calibration.with(lane, 100)::fit))
        .hasMessageThat()
        .isEqualTo("calibration: designs of at least 3 numbers of levels are expected, found 1");
  }

  @Test
  void values_outOfRange_areRefused() {
    Calibration calibration = Calibration.on(DEVICE);
    Design lane = DESIGNS.get("lane");
    assertThat(
            assertThrows(IllegalArgumentException.class, () -> calibration.with(lane, Double.NaN)))
        .hasMessageThat()
        .isEqualTo("calibration: a clock in (0, 1e5] MHz is expected, found NaN");
    assertThat(assertThrows(IllegalArgumentException.class, () -> calibration.withShare(0.4)))
        .hasMessageThat()
        .isEqualTo("calibration: the share to hold must be in [0.5, 1], found 0.4");
    Calibration four = Calibration.on(DeviceProfile.fourInput());
    assertThat(assertThrows(IllegalArgumentException.class, () -> four.with(lane, 100)))
        .hasMessageThat()
        .isEqualTo("calibration: LUTs of 4 inputs are expected, found 6 in " + lane.name());
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> new Calibration.Result(DEVICE, List.of())))
        .hasMessageThat()
        .isEqualTo("calibration: residuals are expected, found none");
  }

  @Test
  void withFile_fastestOfEachDesign_isWhatCallsGive() throws IOException {
    StringBuilder text = new StringBuilder("style,design,script,mhz\n");
    Calibration calls = Calibration.on(DEVICE);
    for (Map.Entry<String, Design> one : DESIGNS.entrySet()) {
      String mhz = String.format(Locale.ROOT, "%.3f", mhz(one.getValue()));
      text.append("any,").append(one.getKey()).append(",fast,").append(mhz).append('\n');
      text.append("any,").append(one.getKey()).append(",\"slow, too\",1\n");
      calls = calls.with(one.getValue(), Double.parseDouble(mhz));
    }
    Path file = Files.writeString(folder.resolve("clocks.csv"), text);
    Calibration.Result result = Calibration.on(DEVICE).withFile(file, DESIGNS).fit();
    assertThat(result.profile()).isEqualTo(calls.fit().profile());
    assertThat(result.toString())
        .matches(
            "six_input: 10 clocks, mean error 0\\.\\d%, 100\\.0% in their range of 1\\.0\\d to 1");
  }

  @Test
  void withFile_wrong_namesFileAndLine() throws IOException {
    Map<String, Design> one = Map.of("gate", DESIGNS.get("lane"));
    String[][] cases = {
      {"", "line 1: the columns design and mhz are expected, found the end of the file"},
      {"design,clock\n", "line 1: one column mhz is expected, found design,clock"},
      {"mhz,design,mhz\n", "line 1: one column mhz is expected, found mhz,design,mhz"},
      {"design,mhz\ngate\n", "line 2: 2 values are expected, found gate"},
      {"design,mhz\ngate,1\n\n", "line 3: 2 values are expected, found nothing"},
      {"design,mhz\nlock,1\n", "line 2: a design of [gate] is expected, found lock"},
      {"design,mhz\ngate,-1\n", "line 2: a clock above 0 MHz is expected, as 123.4, found -1"},
      {"design,mhz\ngate,0.0\n", "line 2: a clock above 0 MHz is expected, as 123.4, found 0.0"},
      {"design,mhz\ngate,\n", "line 2: a clock above 0 MHz is expected, as 123.4, found nothing"},
      {"design,mhz\n", "line 2: a row of gate is expected, found the end of the file"},
    };
    Path file = folder.resolve("clocks.csv");
    for (String[] each : cases) {
      Files.writeString(file, each[0]);
      assertThat(assertThrows(IOException.class, () -> Calibration.on(DEVICE).withFile(file, one)))
          .hasMessageThat()
          .isEqualTo(file + ", " + each[1]);
    }
    Files.writeString(file, "x".repeat(1 << 20) + "\n");
    assertThat(assertThrows(IOException.class, () -> Calibration.on(DEVICE).withFile(file, one)))
        .hasMessageThat()
        .isEqualTo(file + ": at most 1048576 bytes are expected, found more");
    Files.delete(file);
    assertThat(assertThrows(IOException.class, () -> Calibration.on(DEVICE).withFile(file, one)))
        .hasMessageThat()
        .isEqualTo(file + ": a file is expected, found none");
  }

  /** A file with random bytes changed is read, or refused with its name; nothing else happens. */
  @Test
  void withFile_randomFaults_areRefusedOrRead() throws IOException {
    Map<String, Design> designs = Map.of("gate", DESIGNS.get("lane"), "lock", DESIGNS.get("row"));
    byte[] right =
        "design,mhz,remark\ngate,120.5,\"first, of two\"\nlock,80,=none\ngate,99.9,\n"
            .getBytes(StandardCharsets.US_ASCII);
    Path file = folder.resolve("clocks.csv");
    SplittableRandom random = new SplittableRandom(7);
    int refused = 0;
    for (int round = 0; round < 1000; round++) {
      byte[] bytes = right.clone();
      for (int change = random.nextInt(4); change >= 0; change--) {
        bytes[random.nextInt(bytes.length)] =
            (byte)
                (random.nextBoolean() ? random.nextInt(256) : ",\"\n\r'".charAt(random.nextInt(5)));
      }
      Files.write(file, bytes);
      try {
        Calibration.on(DEVICE).withFile(file, designs);
      } catch (IOException e) {
        assertThat(e).hasMessageThat().startsWith(file + ", line ");
        assertThat(e).hasMessageThat().contains(" expected");
        refused++;
      }
    }
    assertThat(refused).isGreaterThan(300);
    assertThat(refused).isLessThan(1000);
  }
}

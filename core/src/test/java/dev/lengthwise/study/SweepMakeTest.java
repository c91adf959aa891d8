package dev.lengthwise.study;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.InstructionCache;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.file.WriteLock;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Style;
import dev.lengthwise.stream.CodeStream;
import dev.lengthwise.study.fetch.FrontEnd;
import dev.lengthwise.study.sweep.StudyFile;
import dev.lengthwise.study.sweep.StudyRow;
import dev.lengthwise.study.sweep.Sweep;
import dev.lengthwise.study.sweep.Variant;
import dev.lengthwise.study.sweep.VariantSpace;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.table.InstructionSet;
import dev.lengthwise.table.PrefixRules;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** A study's file refuses rows of another make, says in what, and loses none. */
class SweepMakeTest {

  private static final DeviceProfile DEVICE = DeviceProfile.sixInputDualOutput();

  private static final StudyStream STREAM = SmallSet.stream("tide", 1);

  @TempDir Path folder;

  private Path file;

  @BeforeEach
  void wholeStudy() throws Exception {
    file = folder.resolve("study.csv");
    Sweep.of(variants(front(1), DEVICE), List.of(STREAM)).run(file);
  }

  private static FrontEnd.Builder front(int decoder) {
    return FrontEnd.builder(16).decoder(decoder);
  }

  private static Predecoder.Builder lane() {
    return Predecoder.builder(SmallSet.SET);
  }

  private static Variant variant(String name, Predecoder lane, FrontEnd front, DeviceProfile on) {
    return new Variant(name, lane, Style.ROM, on, front);
  }

  private static List<Variant> variants(FrontEnd.Builder front, DeviceProfile device) {
    FrontEnd built = front.build();
    return List.of(
        variant("lean", lane().leaveOut("base", 0xe0).build(), built, device),
        variant("some", lane().longest(4).build(), built, device),
        variant("full", lane().build(), built, device));
  }

  private void assertRefused(Sweep sweep, String message) throws IOException {
    String before = Files.readString(file);
    IOException e = assertThrows(IOException.class, () -> sweep.run(file));
    assertThat(e.getMessage().replaceAll(":[0-9a-f]{16}", ":*").replaceAll("=[0-9a-f]{16}", "=*"))
        .isEqualTo(file + ", line 2: a row of this study must be made with " + message);
    assertThat(Files.readString(file)).isEqualTo(before);
    Path merged = folder.resolve("merged.csv");
    assertThat(assertThrows(IOException.class, () -> sweep.merge(List.of(file), merged)))
        .hasMessageThat()
        .isEqualTo(e.getMessage());
    assertThat(Files.exists(merged)).isFalse();
  }

  private static Sweep sweep(FrontEnd.Builder front, DeviceProfile device) {
    return Sweep.of(variants(front, device), List.of(STREAM));
  }

  @Test
  void run_otherFrontEnd_saysWhatDiffers() throws IOException {
    assertRefused(sweep(front(2), DEVICE), "decoder=2, found decoder=1 (lean on tide)");
    assertRefused(
        sweep(front(1).slowPath(9).queue(64), DEVICE),
        "queue=64 slow_path=9, found queue=48 slow_path=4 (lean on tide)");
    CacheGeometry geometry = CacheGeometry.builder(1024).windowBytes(16).lineBytes(32).build();
    assertRefused(
        sweep(front(1).cache(InstructionCache.named("icache", geometry).build(), 7), DEVICE),
        "miss=7 cache=1024x1x32:*, found miss=10 cache=none (lean on tide)");
  }

  @Test
  void run_otherDeviceOfTheSameLuts_isRefused() throws IOException {
    assertRefused(
        sweep(front(1), DEVICE.toBuilder().pairInputs(4).build()),
        "device=six_input_dual_output:*, found device=six_input_dual_output:* (lean on tide)");
  }

  @Test
  void run_otherLane_saysWhatDiffers() throws IOException {
    Predecoder lane =
        lane().leaveOut("base", 0x30, 0x3f).undefinedRows(UndefinedRows.ANYTHING).build();
    assertRefused(
        Sweep.of(List.of(variant("lean", lane, front(1).build(), DEVICE)), List.of(STREAM)),
        "undefined=anything left_out=base:0x30-0x3f, found undefined=not_handled"
            + " left_out=base:0xe0 (lean on tide)");
    assertRefused(
        sweep(front(1), DEVICE).withEffort(Effort.THOROUGH),
        "effort=thorough, found effort=quick (lean on tide)");
  }

  /** A row of a lane that is not asked for must still be of this study. */
  @Test
  void run_otherRowsOfAnotherStudy_areRefused() throws IOException {
    Variant more = variant("more", lane().build(), front(3).build(), DEVICE);
    assertRefused(
        Sweep.of(List.of(more), List.of(STREAM)), "decoder=3, found decoder=1 (lean on tide)");
  }

  @Test
  void run_otherStreamOfTheSameName_isRefused() throws IOException {
    List<Variant> variants = variants(front(1), DEVICE);
    assertRefused(
        Sweep.of(variants, List.of(SmallSet.stream("tide", 2))),
        "code=* trace=*, found code=* trace=* (lean on tide)");
    StudyStream wide = StudyStream.ofImage("tide", SmallSet.SET, 1, SmallSet.image(1, 20_000));
    assertRefused(
        Sweep.of(variants, List.of(wide)),
        "modes=wide trace=*, found modes=none trace=* (lean on tide)");
    CodeStream same = STREAM.profile().stream();
    assertRefused(
        Sweep.of(variants, List.of(StudyStream.of(same, SmallSet.SET, 0))),
        "trace=unordered:*, found trace=* (lean on tide)");
  }

  @Test
  void run_otherSetOfTheSameName_isRefused() throws IOException {
    InstructionSet other =
        InstructionSet.of(
            SmallSet.SET.table(), PrefixRules.builder().flips(0xf0, "wide").build(), 12);
    Variant lean = variant("lean", Predecoder.builder(other).build(), front(1).build(), DEVICE);
    StudyStream stream = StudyStream.ofImage("sea", other, 0, SmallSet.image(1, 20_000));
    assertRefused(
        Sweep.of(List.of(lean), List.of(stream)), "set=gate:*, found set=gate:* (lean on tide)");
  }

  @Test
  void run_fewerLanesOrAPart_keepsEveryRow() throws Exception {
    String whole = Files.readString(file);
    List<Variant> all = variants(front(1), DEVICE);
    for (Variant only : all) {
      assertThat(Sweep.of(List.of(only), List.of(STREAM)).run(file)).hasSize(1);
      assertThat(Files.readString(file)).isEqualTo(whole);
    }
    for (int i = 1; i <= 2; i++) {
      Sweep.of(all, List.of(STREAM)).withPart(i, 2).run(file);
      assertThat(Files.readString(file)).isEqualTo(whole);
    }
    Sweep.of(all, List.of(SmallSet.stream("sea", 3))).run(file);
    assertThat(Files.readString(file)).startsWith(whole);
    assertThat(StudyFile.read(file)).hasSize(6);
  }

  @Test
  void merge_intoAFileWithMoreRows_keepsThem() throws Exception {
    Path slice = folder.resolve("slice.csv");
    Sweep sea =
        Sweep.of(variants(front(1), DEVICE).subList(0, 1), List.of(SmallSet.stream("sea", 3)));
    sea.run(slice);
    assertThat(sea.merge(List.of(slice), file)).hasSize(1);
    assertThat(StudyFile.read(file)).hasSize(4);
  }

  @Test
  void merge_slicesOfOtherFigures_areRefused() throws Exception {
    Path slice = folder.resolve("slice.csv");
    Files.writeString(slice, Files.readString(file).replaceFirst("rom,6,[0-9]+", "rom,6,12345"));
    assertThat(
            assertThrows(
                IOException.class,
                () -> sweep(front(1), DEVICE).merge(List.of(file, slice), folder.resolve("m"))))
        .hasMessageThat()
        .matches(
            ".*slice.csv, line 2: a row must say what it says in the other files, found other"
                + " figures of lean, rom for six_input_dual_output:[0-9a-f]+, on tide");
  }

  /** Two devices with LUTs of as many inputs are two devices. */
  @Test
  void run_devicesOfTheSameLutInputs_areCostedEach() throws Exception {
    List<Variant> variants =
        VariantSpace.builder(SmallSet.SET)
            .styles(Style.BANKED)
            .devices(DEVICE, DeviceProfile.sixInput())
            .build()
            .variants();
    List<StudyRow> rows = Sweep.of(variants, List.of(STREAM)).run(folder.resolve("two.csv"));
    assertThat(rows).hasSize(2);
    assertThat(rows.get(0).lutInputs()).isEqualTo(rows.get(1).lutInputs());
    // Only the first device's LUTs serve two functions at one site.
    assertThat(rows.get(0).sitesPerLane()).isLessThan(rows.get(1).sitesPerLane());
  }

  @Test
  void run_whileAnotherGoesOn_isRefused() throws IOException {
    String before = Files.readString(file);
    WriteLock other = WriteLock.of(file);
    assertThat(assertThrows(IOException.class, () -> sweep(front(1), DEVICE).run(file)))
        .hasMessageThat()
        .isEqualTo(
            folder
                + ": one run that writes study.csv at a time is expected, found another one at"
                + " work");
    other.close();
    assertThat(Files.readString(file)).isEqualTo(before);
  }

  /** A file may be named as its maker likes; what its name becomes is the same in every run. */
  @Test
  void run_hostileNames_areHarmless_andFoundAgain() throws Exception {
    Path hostile = folder.resolve("hostile.csv");
    String name = "=cmd|'\u202e\u0007,\n.elf";
    List<Variant> lean = variants(front(1), DEVICE).subList(0, 1);
    Sweep sweep = Sweep.of(lean, List.of(SmallSet.stream(name, 4)));
    List<StudyRow> rows = sweep.run(hostile);
    String text = Files.readString(hostile);
    assertThat(text).contains(",\"'=cmd|'\\u202e\\u0007,\\u000a.elf\",");
    List<Integer> finished = new ArrayList<>();
    assertThat(sweep.withProgress((done, all) -> finished.add(done)).run(hostile)).isEqualTo(rows);
    assertThat(finished).containsExactly(1);
    assertThat(Files.readString(hostile)).isEqualTo(text);
  }

  @Test
  void run_leavesTheFileAlone() throws IOException {
    try (Stream<Path> files = Files.list(folder)) {
      assertThat(new ArrayList<>(files.toList())).containsExactly(file);
    }
  }
}

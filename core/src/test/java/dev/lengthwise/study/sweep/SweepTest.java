package dev.lengthwise.study.sweep;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.PrefixTreatment;
import dev.lengthwise.predecode.SpecifierDepth;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.study.SmallSet;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.testing.Slow;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Sweeps a small space in one run, in slices, and in runs that were broken off. */
@Slow
class SweepTest {

  private static final List<StudyStream> STREAMS =
      List.of(SmallSet.stream("first", 1), SmallSet.stream("second", 2));

  private static final List<Variant> VARIANTS =
      VariantSpace.builder(SmallSet.SET)
          .rows("all", List.of())
          .rows("base", List.of(new Predecoder.LeftOut("base", 0xe0, 0xe0)))
          .prefixes(PrefixTreatment.NOT_HANDLED, PrefixTreatment.folded(1))
          .depths(SpecifierDepth.BYTE)
          .styles(Style.ROM, Style.BANKED)
          .decoders(1, 2)
          .build()
          .variants();

  @TempDir Path folder;

  @Test
  void rows_sayWhatPartsSay() throws Exception {
    List<StudyRow> rows = Sweep.of(VARIANTS, STREAMS).run(folder.resolve("study.csv"));
    assertThat(rows).hasSize(VARIANTS.size() * STREAMS.size());
    Variant variant = VARIANTS.get(11);
    StudyStream stream = STREAMS.get(1);
    StudyRow row = rows.get(11 * 2 + 1);
    assertThat(row.key()).isEqualTo(KnownRows.key(variant, STREAMS.get(1)));
    var total = Realizer.on(variant.device()).realize(variant.lane(), variant.style()).total();
    assertThat(row.lutsPerLane()).isEqualTo(total.luts());
    assertThat(row.sitesPerLane()).isEqualTo(total.sites());
    assertThat(row.levels()).isEqualTo(total.levels());
    assertThat(row.exactShare()).isWithin(1e-6).of(stream.accuracy(variant.lane()).exactShare());
    assertThat(row.ipc().getAsDouble())
        .isWithin(1e-4)
        .of(stream.throughput(variant.lane(), variant.frontEnd()).ipc());
  }

  @Test
  void slices_mergeToTheBytesOfOneRun() throws Exception {
    Path whole = folder.resolve("whole.csv");
    Sweep sweep = Sweep.of(VARIANTS, STREAMS).withThreads(1);
    sweep.run(whole);
    List<Path> slices = new ArrayList<>();
    int rows = 0;
    for (int i = 1; i <= 3; i++) {
      Path slice = folder.resolve("slice" + i + ".csv");
      rows += sweep.withPart(i, 3).withThreads(i).run(slice).size();
      slices.add(slice);
    }
    assertThat(rows).isEqualTo(VARIANTS.size() * STREAMS.size());
    Collections.reverse(slices);
    Path merged = folder.resolve("merged.csv");
    sweep.merge(slices, merged);
    assertThat(Files.readString(merged)).isEqualTo(Files.readString(whole));
    IllegalStateException e =
        assertThrows(IllegalStateException.class, () -> sweep.merge(slices.subList(0, 2), merged));
    assertThat(e)
        .hasMessageThat()
        .matches("sweep: slices must have the 32 rows of the whole, found [0-9]+");
  }

  @Test
  void run_thatWasBrokenOff_goesOn() throws Exception {
    Path file = folder.resolve("study.csv");
    Sweep sweep = Sweep.of(VARIANTS, STREAMS);
    List<StudyRow> rows = sweep.run(file);
    String whole = Files.readString(file);
    List<StudyRow> some = new ArrayList<>(rows);
    Collections.shuffle(some, new Random(1));
    StudyFile.write(file, some.subList(0, 23));
    List<Integer> reports = new ArrayList<>();
    sweep.withProgress((finished, all) -> reports.add(finished)).run(file);
    assertThat(reports.get(0)).isEqualTo(23);
    assertThat(reports.get(reports.size() - 1)).isEqualTo(32);
    assertThat(reports).isInOrder();
    assertThat(Files.readString(file)).isEqualTo(whole);
  }

  @Test
  void row_thatIsThere_isNotEvaluatedAnew() throws Exception {
    Path file = folder.resolve("study.csv");
    List<Variant> two = VARIANTS.subList(0, 2);
    List<StudyRow> rows = new ArrayList<>(Sweep.of(two, STREAMS).run(file));
    String marked = Files.readString(file).replaceFirst("rom,6,[0-9]+", "rom,6,12345");
    Files.writeString(file, marked);
    List<StudyRow> again = Sweep.of(two, STREAMS).run(file);
    assertThat(again.get(0).lutsPerLane()).isEqualTo(12345);
    assertThat(again.subList(1, 4)).isEqualTo(rows.subList(1, 4));
    assertThat(Files.readString(file)).isEqualTo(marked);
  }

  @Test
  void sweep_refuses() {
    Sweep sweep = Sweep.of(VARIANTS, STREAMS);
    assertMessage(
        () -> sweep.withPart(0, 3), "sweep: a slice must be i/n with i in [1, n], found 0/3");
    assertMessage(
        () -> sweep.withPart(4, 3), "sweep: a slice must be i/n with i in [1, n], found 4/3");
    assertMessage(() -> sweep.withThreads(0), "sweep: threads must be at least 1, found 0");
    assertMessage(
        () -> Sweep.of(List.of(VARIANTS.get(0), VARIANTS.get(0)), STREAMS),
        "sweep: a variant's name, style and device, and a stream's name, must differ, found "
            + "all-none-byte-laall-lenall-slow-w16-d1 on first again");
  }

  private static void assertMessage(Runnable action, String message) {
    IllegalArgumentException e = assertThrows(IllegalArgumentException.class, action::run);
    assertThat(e).hasMessageThat().isEqualTo(message);
  }

  @Test
  void file_isAsPrintedAndReadAgain() throws Exception {
    Path file = folder.resolve("study.csv");
    List<StudyRow> rows = Sweep.of(VARIANTS.subList(0, 4), STREAMS).run(file);
    assertThat(StudyFile.read(file)).isEqualTo(rows);
    assertThat(Files.readAllLines(file).get(0))
        .isEqualTo(
            "design,style,lut_inputs,luts_per_lane,sites_per_lane,levels,handled_share,"
                + "exact_share,ipc,stream,made_of");
    assertThat(Files.readString(file)).isEqualTo(StudyFile.text(rows));
  }

  @Test
  void file_thatIsNone_isRefused() throws IOException {
    Path file = folder.resolve("study.csv");
    String heads =
        "design,style,lut_inputs,luts_per_lane,sites_per_lane,levels,handled_share,exact_share,ipc,"
            + "stream,made_of\n";
    assertUnreadable(
        file, "a,b\n", ", line 1: the columns " + heads.trim() + " are expected, found a,b");
    assertUnreadable(file, heads + "a,b,c\n", ", line 2: 11 values are expected, found a,b,c");
    assertUnreadable(
        file,
        heads + "a,rom,6,x,5,3,0.5,0.5,,s,\n",
        ", line 2, column 4 (luts_per_lane): a count in [0, 999999999] is expected, found x");
  }

  private static void assertUnreadable(Path file, String text, String message) throws IOException {
    Files.writeString(file, text);
    IOException e = assertThrows(IOException.class, () -> StudyFile.read(file));
    assertThat(e).hasMessageThat().isEqualTo(file + message);
  }

  @Test
  void space_namesEveryCombinationInOrder() {
    List<String> names =
        VariantSpace.builder(SmallSet.SET)
            .rows("all", List.of())
            .rows("few", List.of(new Predecoder.LeftOut("base", 0x30, 0x3f)))
            .prefixes(PrefixTreatment.ONE_UNIT_EACH, PrefixTreatment.folded(2))
            .depths(SpecifierDepth.NONE)
            .lookaheads(VariantSpace.ALL, 2)
            .longest(4)
            .undefinedRows(UndefinedRows.ANYTHING)
            .windows(8)
            .decoders(1, 3)
            .devices(DeviceProfile.sixInputDualOutput(), DeviceProfile.fourInput())
            .build()
            .variants()
            .stream()
            .map(v -> v.name() + "/" + v.device().lutInputs())
            .toList();
    assertThat(names).hasSize(2 * 2 * 2 * 2 * 2);
    assertThat(names.subList(0, 5))
        .containsExactly(
            "all-each-none-laall-len4-any-w8-d1/6",
            "all-each-none-laall-len4-any-w8-d1/4",
            "all-each-none-laall-len4-any-w8-d3/6",
            "all-each-none-laall-len4-any-w8-d3/4",
            "all-each-none-la2-len4-any-w8-d1/6")
        .inOrder();
    assertThat(names.get(31)).isEqualTo("few-folded2-none-la2-len4-any-w8-d3/4");
    assertThat(VariantSpace.builder(SmallSet.SET).build().variants().get(0).name())
        .isEqualTo("all-each-everything-laall-lenall-slow-w16-d1");
  }

  @Test
  void space_refuses() {
    VariantSpace.Builder space = VariantSpace.builder(SmallSet.SET).rows("all", List.of());
    assertMessage(
        () -> space.rows("all", List.of()),
        "variant space: the name of rows is given once, found all again");
    assertMessage(
        () -> space.rows("all-rows", List.of()),
        "variant space: a name of rows must be lower case letters, digits and single underscores,"
            + " found \"all-rows\"");
    assertMessage(
        () -> space.windows(8, 16, 8), "variant space: a window is given once, found 8 again");
    assertMessage(space::depths, "variant space: a depth is expected at least once, found none");
  }
}

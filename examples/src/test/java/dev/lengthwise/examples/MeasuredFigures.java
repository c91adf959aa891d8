package dev.lengthwise.examples;

import static com.google.common.truth.Truth.assertThat;

import com.google.common.collect.Range;
import dev.lengthwise.cache.CacheGeometry;
import dev.lengthwise.cache.CacheModel;
import dev.lengthwise.cache.FetchUnit;
import dev.lengthwise.cache.Replacement;
import dev.lengthwise.device.DeviceProfile;
import dev.lengthwise.examples.set.FetchRow;
import dev.lengthwise.examples.set.ReferenceLane;
import dev.lengthwise.examples.set.Tidegate;
import dev.lengthwise.isa.Ia32;
import dev.lengthwise.isa.NamedSet;
import dev.lengthwise.logic.Effort;
import dev.lengthwise.predecode.LaneArray;
import dev.lengthwise.predecode.Predecoder;
import dev.lengthwise.predecode.UndefinedRows;
import dev.lengthwise.realize.Design;
import dev.lengthwise.realize.Realizer;
import dev.lengthwise.realize.Style;
import dev.lengthwise.realize.cost.BlockCost;
import dev.lengthwise.stream.CodeImage;
import dev.lengthwise.study.advice.Advice;
import dev.lengthwise.study.advice.Advisor;
import dev.lengthwise.study.workload.StudyStream;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Random;

/** The figures that the README states, and how each is measured. */
final class MeasuredFigures {

  private static final Realizer SIX = Realizer.on(DeviceProfile.sixInputDualOutput());
  private static final int ROOM = 60;
  private static final String TIMED =
      "| {} LUTs, {} MHz | {} LUTs, {} MHz | {} LUTs, {} MHz | {} LUTs, {} MHz |";

  private MeasuredFigures() {}

  /** Those that take seconds together. */
  static List<ReadmeFigure> quick() {
    return List.of(
        ReadmeFigure.exact(
            "over a fetch window of {} to {} bytes",
            () -> List.of(LaneArray.LEAST_WINDOW, LaneArray.MOST_WINDOW)),
        ReadmeFigure.exact("At most {} sets.", () -> List.of(FetchUnit.MOST_SETS)),
        ReadmeFigure.exact("| MCS-51 " + TIMED, () -> TimedFigures.kept("mcs51")),
        ReadmeFigure.exact("| Java virtual machine " + TIMED, () -> TimedFigures.kept("jvm")),
        ReadmeFigure.exact(
            "| reference lane without displacement " + TIMED,
            () -> TimedFigures.kept("reference_without_displacement")),
        ReadmeFigure.exact("| reference lane " + TIMED, () -> TimedFigures.kept("reference")),
        ReadmeFigure.exact("| Tidegate " + TIMED, () -> TimedFigures.kept("tidegate")),
        ReadmeFigure.exact(
            "| IA-32, undefined rows free " + TIMED, () -> TimedFigures.kept("ia32_defined")),
        ReadmeFigure.exact("ways (1 to {})", () -> List.of(CacheGeometry.MOST_WAYS)),
        ReadmeFigure.exact(
            "Tidegate's lane takes {} LUTs in {} levels in style `BANKED` and {} in {} in style"
                + " `ROM`; a row of eight of the first, with marks, takes {} in {}.",
            MeasuredFigures::tidegate));
  }

  /** Those that take minutes. */
  static List<ReadmeFigure> slow() {
    return List.of(
        ReadmeFigure.exact(
            "The lane that mappers are compared by takes {} LUTs in {} levels in style"
                + " `LUT_NETWORK`; Yosys makes {} of it at its best.",
            MeasuredFigures::reference),
        ReadmeFigure.exact(
            "The IA-32 lane takes {} LUTs in {} levels in style `ROM`, and {} in {} in style"
                + " `LUT_NETWORK` where it may say anything of undefined rows.",
            MeasuredFigures::ia32),
        ReadmeFigure.exact(
            "a lane advised on a recorded trace, of small free-standing programs, at most "
                + ROOM
                + " LUTs in style `LUT_NETWORK`, takes {} and is exact for {}% there, for {}% of a"
                + " second trace, and for {}%, {}%, {}% and {}% of a C library, a mathematical one,"
                + " a loader and a memory checker; the best of so many LUTs by hand reaches"
                + " {}%, {}%, {}% and {}% of these.",
            MeasuredFigures::advised),
        ReadmeFigure.exact("(yosys {}, nextpnr-ice40 {})", TimedFigures::versions),
        ReadmeFigure.exact("| sluice, as above " + TIMED, () -> TimedFigures.of("sluice")),
        ReadmeFigure.exact(
            "| RISC-V, by its first parcel " + TIMED, () -> TimedFigures.of("riscv")),
        ReadmeFigure.atLeast(
            "The cache model takes over {} million accesses a second.",
            MeasuredFigures::cacheModel));
  }

  private static List<?> tidegate() {
    Design banked = SIX.realize(Tidegate.lane(), Style.BANKED);
    BlockCost rom = SIX.realize(Tidegate.lane(), Style.ROM).total();
    BlockCost row = SIX.realize(FetchRow.of(Tidegate.lane()), banked).total();
    return List.of(
        banked.total().luts(),
        banked.total().levels(),
        rom.luts(),
        rom.levels(),
        row.luts(),
        row.levels());
  }

  private static List<?> reference() {
    MappingPair pair =
        MappingPair.of(
            new MappedFunction.Lane("reference_lane", ReferenceLane.read().lane(true)),
            DeviceProfile.sixInputDualOutput(),
            Effort.QUICK);
    return List.of(pair.ours().luts(), pair.ours().levels(), pair.tool().luts());
  }

  private static List<?> ia32() {
    BlockCost rom = SIX.realize(NamedSet.of("ia32").lane(), Style.ROM).total();
    BlockCost network = SIX.realize(NamedSet.of("ia32_defined").lane(), Style.LUT_NETWORK).total();
    return List.of(rom.luts(), rom.levels(), network.luts(), network.levels());
  }

  private static List<?> advised() throws IOException {
    StudyStream searched = recorded(RecordedTrace.TIDEGATE_O2);
    Advice advice =
        Advisor.on(searched, SIX, Style.LUT_NETWORK)
            .withUndefinedRows(UndefinedRows.ANYTHING)
            .within("ia32_advised", ROOM);
    List<Predecoder> byHand =
        NamedSet.of("ia32").lanes(UndefinedRows.ANYTHING).stream()
            .filter(lane -> lane.mostFolded() == 0) // the others take over a hundred
            .filter(lane -> SIX.realize(lane, Style.LUT_NETWORK).unprovedTotal().luts() <= ROOM)
            .toList();
    List<Object> figures = new ArrayList<>(List.of(advice.cost().luts()));
    figures.add(exact(searched, advice.lane()));
    figures.add(exact(recorded(RecordedTrace.TIDEGATE_OS), advice.lane()));
    List<String> best = new ArrayList<>();
    for (Path file : strangers()) {
      StudyStream other =
          StudyStream.ofImage(
              file.toString(), Ia32.instructionSet(), Ia32.MODES_32, CodeImage.read(file));
      figures.add(exact(other, advice.lane()));
      best.add(
          share(
              byHand.stream()
                  .mapToDouble(lane -> other.accuracy(lane).exactShare())
                  .max()
                  .orElseThrow()));
    }
    figures.addAll(best);
    return figures;
  }

  /** Programs that no search saw. */
  private static List<Path> strangers() {
    List<Path> files = new ArrayList<>();
    for (String library : List.of("libc.so.6", "libm.so.6", "ld-linux.so.2")) {
      Path file = UsualCode.FILES.get(0).resolveSibling(library);
      Tool.installed(file, "libc6-i386-cross");
      files.add(file);
    }
    Path checker = Path.of("/usr/libexec/valgrind/memcheck-x86-linux");
    Tool.installed(checker, "valgrind");
    files.add(checker);
    return files;
  }

  private static StudyStream recorded(RecordedTrace recorded) throws IOException {
    return StudyStream.of(
        recorded.stream(), Ia32.instructionSet(), Ia32.MODES_32, recorded::replay);
  }

  private static String exact(StudyStream stream, Predecoder lane) {
    return share(stream.accuracy(lane).exactShare());
  }

  private static String share(double value) {
    return String.format(Locale.ROOT, "%.1f", 100 * value);
  }

  /** As {@code speed} measures, but for a second. */
  private static List<?> cacheModel() {
    CacheModel model =
        CacheModel.of(
            CacheGeometry.builder(16384).ways(4).lineBytes(32).windowBytes(16).build(),
            Replacement.LRU);
    Random random = new Random(1);
    long[] addresses = new long[1 << 16];
    for (int i = 0; i < addresses.length; i++) {
      addresses[i] = i % 8 == 0 ? random.nextInt(1 << 16) & ~15 : addresses[i - 1] + 16;
    }
    long hits = 0;
    long accesses = 0;
    long start = System.nanoTime();
    long seconds = 0;
    while (seconds < 2) {
      for (long address : addresses) {
        hits += model.access(address) ? 1 : 0;
      }
      accesses += addresses.length;
      seconds = (System.nanoTime() - start) / 1_000_000_000;
    }
    assertThat(hits).isIn(Range.closed(1L, accesses));
    return List.of(accesses / 1e6 / ((System.nanoTime() - start) / 1e9));
  }
}

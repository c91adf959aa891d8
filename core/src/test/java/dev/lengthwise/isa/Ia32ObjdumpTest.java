package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.golden.Outcome;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Compares instruction boundaries with GNU objdump, on real 32-bit and assembled 16-bit code. */
@CallsTools
class Ia32ObjdumpTest {

  private static final Path LIBRARY = Path.of("/usr/i686-linux-gnu/lib/libc.so.6");

  /**
   * The share of each length 1 to 12 in percent of all instructions of Debian 12's 32-bit C library
   * (package libc6-i386-cross 2.36-8cross1, GNU objdump 2.40), measured for this project; other
   * versions of the library differ a little.
   */
  private static final double[] SHARES = {
    11.47, 23.18, 21.64, 15.30, 10.12, 12.78, 4.14, 0.95, 0.00, 0.32, 0.10, 0.00
  };

  /** One point in a hundred of all instructions. */
  private static final double SHARE_TOLERANCE = 1.0;

  private static final GoldenModel MODEL = GoldenModel.of(Ia32.instructionSet());

  @TempDir Path directory;

  @Test
  void boundaries_ofRealLibrary_equalObjdump() {
    Tool.installed(LIBRARY, "libc6-i386-cross");
    Listing listing = Listing.of(60, LIBRARY);
    assertThat(listing.sections().stream().map(Listing.Section::name)).contains(".text");
    int count = 0;
    int[] byLength = new int[Ia32.LONGEST + 1];
    for (Listing.Section section : listing.sections()) {
      assertThat(differences(section, Ia32.MODES_32)).isEmpty();
      assertWithMessage("lines of %s that are no instruction", section.name())
          .that(section.lines().stream().filter(Ia32ObjdumpTest::isOdd).toList())
          .isEmpty();
      assertWithMessage("lines that join WAIT and an x87 instruction")
          .that(waits(section))
          .isEqualTo(0);
      count += section.lines().size();
      section.lines().forEach(line -> byLength[line.length()]++);
    }
    assertThat(count).isGreaterThan(400_000);
    for (int length = 1; length <= SHARES.length; length++) {
      assertWithMessage("percent of instructions of %s bytes", length)
          .that(100.0 * byLength[length] / count)
          .isWithin(SHARE_TOLERANCE)
          .of(SHARES[length - 1]);
    }
  }

  @Test
  void boundaries_ofAssembled16BitCode_equalObjdump() throws IOException {
    Listing.Section code = assemble("code16.s", "i8086");
    assertThat(code.lines().size()).isGreaterThan(5_000);
    assertThat(code.lines().stream().filter(Ia32ObjdumpTest::isOdd).toList()).isEmpty();
    assertThat(differences(code, Ia32.MODES_16)).isEmpty();
    assertWithMessage("lines that join WAIT and an x87 instruction").that(waits(code)).isEqualTo(4);
    assertThat(mapsIn(code)).containsExactly(0, 1, 2, 3, 4, 5, 6, 7);
  }

  /**
   * Returns the lines with WAIT (9B) apart: the disassembler prints it together with an x87
   * instruction after it, in the manual it is an instruction of its own.
   */
  private static List<Listing.Line> splitWaits(Listing.Section section) {
    List<Listing.Line> lines = new ArrayList<>();
    byte[] bytes = section.bytes();
    for (Listing.Line line : section.lines()) {
      if (bytes[line.start()] == (byte) 0x9b && line.length() > 1) {
        lines.add(new Listing.Line(line.start(), 1, "fwait"));
        lines.add(new Listing.Line(line.start() + 1, line.length() - 1, line.text()));
      } else {
        lines.add(line);
      }
    }
    return lines;
  }

  private static int waits(Listing.Section section) {
    return splitWaits(section).size() - section.lines().size();
  }

  private Listing.Section assemble(String resource, String machine) throws IOException {
    Path source = directory.resolve(resource);
    try (InputStream in = Ia32ObjdumpTest.class.getResourceAsStream(resource)) {
      Files.copy(in, source);
    }
    Path object = directory.resolve("code.o");
    Tool.named("as", "binutils").run(60, "--32", "--no-warn", "-o", object, source);
    List<Listing.Section> sections = Listing.of(60, "-m", machine, object).sections();
    assertThat(sections).hasSize(1);
    return sections.get(0);
  }

  /** Tells whether a line shows data, or a prefix that the disassembler could not place. */
  private static boolean isOdd(Listing.Line line) {
    String text = line.text().strip();
    return text.isEmpty()
        || text.contains("(bad)")
        || text.startsWith(".byte")
        || Set.of("repz", "repnz", "data16", "data32", "addr16", "addr32", "lock", "cs", "ds", "es")
            .contains(text)
        || Set.of("ss", "fs", "gs").contains(text);
  }

  /** Compares every line, so that one difference hides no other; returns the first few. */
  private static List<String> differences(Listing.Section section, int modes) {
    List<String> found = new ArrayList<>();
    byte[] bytes = section.bytes();
    for (Listing.Line line : splitWaits(section)) {
      int packed = MODEL.lengthAt(modes, bytes, line.start());
      if (packed != line.length() && found.size() < 20) {
        found.add(
            String.format(
                Locale.ROOT,
                "%s+0x%x %s (%s): objdump %d, ours %s %d",
                section.name(),
                line.start(),
                HexFormat.of().formatHex(bytes, line.start(), line.start() + line.length()),
                line.text().strip(),
                line.length(),
                Outcome.of(packed),
                packed));
      }
    }
    return found;
  }

  private static Set<Integer> mapsIn(Listing.Section section) {
    Set<Integer> maps = new TreeSet<>();
    byte[] bytes = section.bytes();
    for (Listing.Line line : section.lines()) {
      maps.add(Ia32Cell.of(bytes, line.start(), line.start() + line.length()).map());
    }
    return maps;
  }
}

package dev.lengthwise.isa;

import static com.google.common.truth.Truth.assertThat;
import static com.google.common.truth.Truth.assertWithMessage;

import dev.lengthwise.golden.GoldenModel;
import dev.lengthwise.isa.AssemblerTable.Form;
import dev.lengthwise.testing.CallsTools;
import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/**
 * Assembles every form of the instruction table of nasm 2.16 that is not for 64-bit code, each with
 * several operands, and compares the lengths.
 */
@CallsTools
class Ia32AssemblerTest {

  /** Not part of an installed package, but of the source package; {@code .ci/run} fetches it. */
  private static final Path TABLE = Path.of("/usr/src/nasm/x86/insns.dat");

  private static final Pattern REFUSED = Pattern.compile("(?:panic: )?\\S*forms\\.asm:(\\d+): .*");

  /** WAIT is an instruction of its own; these are WAIT and their form with N. */
  private static final Set<String> WAIT =
      Set.of("FCLEX", "FDISI", "FENI", "FINIT", "FSAVE", "FSTCW", "FSTENV", "FSTSW");

  /** Their cells are blank in every source named; for older or other processors, or aliases. */
  private static final Set<String> BLANK =
      Set.of(
          "BB1_RESET",
          "CMPXCHG486",
          "CPU_READ",
          "CPU_WRITE",
          "DMINT",
          "FNDISI",
          "FNENI",
          "FSETPM",
          "IBTS",
          "MOV reg_treg",
          "PAVEB",
          "RDSHR",
          "RSLDT",
          "SALC",
          "SMINT",
          "SVLDT",
          "XBTS");

  /** The assembler gives them other lengths than the manual of {@link Ia32}. */
  private static final Set<String> OTHER_LENGTH =
      Set.of(
          // UD0 and UD1 have a ModR/M byte (volume 2, UD); 0F alone is no POP.
          "UD0",
          "UD1",
          "UD2B",
          "POP reg_cs",
          // Of other processors, in the cells of GETSEC, MOVD and the three-byte maps.
          "BB0_RESET",
          "RDM",
          "SMINTOLD",
          "WRSHR",
          // 0F B8 is POPCNT's cell, 0F 00 /6 is blank; JMPE led to another architecture.
          "JMPE",
          // The FP16 specification has them without an immediate (maps 6, 4E and 4F).
          "VRSQRTPH",
          "VRSQRTSH",
          // The assembler writes 67 by the register's size, whatever it codes the address in.
          "MOVDIR64B");

  /** The same, in 32-bit code only. */
  private static final Set<String> OTHER_LENGTH_32 = Set.of("ENQCMD", "ENQCMDS");

  @TempDir Path directory;

  private record Line(Form form, String text) {}

  @ParameterizedTest
  @ValueSource(ints = {16, 32})
  void lengths_ofEveryForm_equalAssembler(int bits) throws IOException {
    Tool.installed(TABLE, "nasm as source (apt-get source nasm)");
    List<Form> forms = AssemblerTable.read(TABLE).stream().filter(Form::isLegacy).toList();
    List<Line> lines = new ArrayList<>();
    for (Form form : forms) {
      form.lines(bits).forEach(text -> lines.add(new Line(form, text)));
    }
    byte[] out = assemble(lines, bits);
    GoldenModel model = GoldenModel.of(Ia32.instructionSet(Ia32Extension.values()));
    ByteBuffer words = ByteBuffer.wrap(out).order(ByteOrder.LITTLE_ENDIAN);
    int table = out.length - Integer.BYTES * (lines.size() + 1);
    SortedSet<String> differing = new TreeSet<>();
    List<String> faults = new ArrayList<>();
    Set<Form> assembled = new HashSet<>();
    int agreed = 0;
    for (int i = 0; i < lines.size(); i++) {
      Line line = lines.get(i);
      assembled.add(line.form());
      int start = words.getInt(table + Integer.BYTES * i);
      int end = words.getInt(table + Integer.BYTES * (i + 1));
      int modes = bits == 32 ? Ia32.MODES_32 : Ia32.MODES_16;
      int length = Math.max(0, model.lengthAt(modes, out, start));
      if (length == end - start) {
        agreed++;
      } else if (isExplained(line.form().key(), out[start], length, bits)) {
        differing.add(line.form().key());
      } else {
        String bytes = HexFormat.of().formatHex(out, start, end);
        faults.add(line.text() + ", " + bytes + ", length " + length);
      }
    }
    assertThat(faults).isEmpty();
    assertThat(differing).containsExactlyElementsIn(expected(bits));
    assertWithMessage("forms that were not assembled")
        .that(forms.stream().filter(form -> !assembled.contains(form)).map(Form::toString).toList())
        .isEmpty();
    assertThat(forms.size()).isGreaterThan(5_000);
    assertThat(agreed).isGreaterThan(27_000);
  }

  private static boolean isExplained(String form, byte first, int length, int bits) {
    return WAIT.contains(form) && first == (byte) 0x9b && length == 1
        || BLANK.contains(form) && length == 0
        || OTHER_LENGTH.contains(form)
        || bits == 32 && OTHER_LENGTH_32.contains(form);
  }

  private static Set<String> expected(int bits) {
    Set<String> union = new TreeSet<>(WAIT);
    union.addAll(BLANK);
    union.addAll(OTHER_LENGTH);
    if (bits == 32) {
      union.addAll(OTHER_LENGTH_32);
    }
    return union;
  }

  /**
   * Assembles the lines, with a table of where they start behind them; drops those that the
   * assembler refuses, such as a mask that it does not take, until it refuses none.
   */
  private byte[] assemble(List<Line> lines, int bits) throws IOException {
    Path binary = directory.resolve("forms.bin");
    while (true) {
      SortedSet<Integer> refused = refused(source(lines, bits), binary);
      if (refused.isEmpty()) {
        return Files.readAllBytes(binary);
      }
      List<Line> kept = new ArrayList<>();
      for (int i = 0; i < lines.size(); i++) {
        if (!refused.contains(i)) {
          kept.add(lines.get(i));
        }
      }
      lines.clear();
      lines.addAll(kept);
    }
  }

  /** Writes each line of the form and a label on a line of its own, from the second on. */
  private Path source(List<Line> lines, int bits) throws IOException {
    StringBuilder text = new StringBuilder("bits " + bits + "\n");
    for (int i = 0; i < lines.size(); i++) {
      text.append('L').append(i).append(": ").append(lines.get(i).text()).append('\n');
    }
    text.append('L').append(lines.size()).append(":\n");
    for (int i = 0; i <= lines.size(); i++) {
      text.append("dd L").append(i).append('\n');
    }
    return Files.writeString(directory.resolve("forms.asm"), text);
  }

  private SortedSet<Integer> refused(Path source, Path binary) throws IOException {
    Tool.named("nasm", "nasm");
    // Its status is 1 where it refuses a line.
    String text =
        Tool.named("sh", "dash")
            .run(60, "-c", "nasm -O0 -w-all -f bin -o \"$1\" \"$0\" 2>&1 || true", source, binary);
    SortedSet<Integer> refused = new TreeSet<>();
    for (String row : text.lines().toList()) {
      Matcher line = REFUSED.matcher(row);
      assertWithMessage(row).that(line.matches()).isTrue();
      refused.add(Integer.parseInt(line.group(1)) - 2);
    }
    return refused;
  }
}

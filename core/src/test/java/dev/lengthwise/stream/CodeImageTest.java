package dev.lengthwise.stream;

import static com.google.common.truth.Truth.assertThat;
import static org.junit.jupiter.api.Assertions.assertThrows;

import dev.lengthwise.testing.Tool;
import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashSet;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class CodeImageTest {

  private static final Path JAVA = Path.of(System.getProperty("java.home"), "bin", "java");

  private static final Path LIBRARY = Path.of("/usr/i686-linux-gnu/lib/libc.so.6");

  @TempDir Path folder;

  private Path file(byte[] bytes) throws IOException {
    return Files.write(folder.resolve("image"), bytes);
  }

  @Test
  void read_rawFile_isOneSection() throws IOException {
    CodeImage image = CodeImage.read(file(new byte[] {1, 2, 3}));
    assertThat(image.sections()).hasSize(1);
    assertThat(image.sections().get(0).code()).isEqualTo(new byte[] {1, 2, 3});
  }

  @Test
  void read_program_hasItsText() throws IOException {
    CodeImage image = CodeImage.read(JAVA);
    CodeImage.Section text =
        image.sections().stream().filter(s -> s.name().equals(".text")).findFirst().orElseThrow();
    assertThat(text.code().length).isGreaterThan(100);
    assertThat(text.address()).isGreaterThan(0L);
  }

  @Test
  void read_emptyFile_saysSo() throws IOException {
    Path file = file(new byte[0]);
    assertThat(assertThrows(IOException.class, () -> CodeImage.read(file)))
        .hasMessageThat()
        .isEqualTo(file + ": a file with code is expected, found no executable byte");
  }

  @Test
  void read_missingFile_namesIt() {
    Path file = folder.resolve("none");
    assertThat(assertThrows(NoSuchFileException.class, () -> CodeImage.read(file)))
        .hasMessageThat()
        .isEqualTo(file + ": a file is expected, found none");
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "213c617263683e0a2f20|an archive",
        "4d5a90|a DOS program",
        "cffaedfe0700|a Mach-O file",
        "cafebabe0000|a Java class or a Mach-O file of several machines",
        "504b030414|a zip file",
        "fd377a585a00|an xz file",
        "28b52ffd|a zstd file",
        "23212f62696e2f7368|a script",
      })
  void read_otherFormat_isRefused_butReadRaw(String hex, String what) throws IOException {
    byte[] bytes = HexFormat.of().parseHex(hex);
    Path file = file(bytes);
    assertThat(assertThrows(IOException.class, () -> CodeImage.read(file)))
        .hasMessageThat()
        .isEqualTo(
            file
                + ": an ELF file or raw code is expected (read raw, any bytes are taken as code),"
                + " found "
                + what);
    assertThat(CodeImage.readRaw(file, 0).sections().get(0).code()).isEqualTo(bytes);
  }

  /** Archives and PE files as Debian's binutils write them. */
  @Test
  void read_filesOfBinutils_areKnown() throws Exception {
    Path object = folder.resolve("gate.o");
    Files.writeString(folder.resolve("gate.s"), ".text\nret\n");
    Tool.named("as", "binutils")
        .run(20, "--32", "-o", object.toString(), folder.resolve("gate.s").toString());
    assertThat(CodeImage.read(object).machine().getAsInt()).isEqualTo(3); // EM_386, ELF's own list
    Path archive = folder.resolve("gate.a");
    Tool.named("ar", "binutils").run(20, "rc", archive.toString(), object.toString());
    assertFound(archive, "an archive");
    Path pe = folder.resolve("gate.exe");
    Tool.named("objcopy", "binutils").run(20, "-O", "pei-i386", object.toString(), pe.toString());
    assertFound(pe, "a PE file");
    Path compressed = folder.resolve("packed.o");
    Files.write(compressed, compressed(Files.readAllBytes(object)));
    assertThat(assertThrows(IOException.class, () -> CodeImage.read(compressed)))
        .hasMessageThat()
        .matches(
            Pattern.quote(compressed.toString())
                + ", offset 0x[0-9a-f]+: code that is not compressed is expected in section 1, found"
                + " flags 0x806 \\(0x800: compressed\\)");
  }

  /** Sets SHF_COMPRESSED in section 1 of a 32-bit little-endian ELF file, as no tool does. */
  private static byte[] compressed(byte[] object) {
    ByteBuffer fields = ByteBuffer.wrap(object).order(ByteOrder.LITTLE_ENDIAN);
    int flags = fields.getInt(32) + 40 + 8;
    fields.putInt(flags, fields.getInt(flags) | 0x800);
    return object;
  }

  private static void assertFound(Path file, String what) {
    assertThat(assertThrows(IOException.class, () -> CodeImage.read(file)))
        .hasMessageThat()
        .endsWith(", found " + what);
  }

  @Test
  void read_programCutAnywhere_namesFileOrFindsWholeSections() throws IOException {
    byte[] whole = Files.readAllBytes(JAVA);
    int refused = 0;
    for (int length = 4; length < whole.length; length += Math.max(1, whole.length / 200)) {
      Path file = file(Arrays.copyOf(whole, length));
      refused += isRefused(file) ? 1 : 0;
    }
    assertThat(refused).isGreaterThan(190);
  }

  private static boolean isRefused(Path file) {
    try {
      CodeImage.read(file);
      return false;
    } catch (IOException e) {
      assertThat(e).hasMessageThat().startsWith(file.toString());
      return true;
    }
  }

  @Test
  void read_gzip_isTheSame() throws IOException {
    Path packed = folder.resolve("java.gz");
    try (var out = new GZIPOutputStream(Files.newOutputStream(packed))) {
      Files.copy(JAVA, out);
    }
    CodeImage image = CodeImage.read(packed);
    CodeImage plain = CodeImage.read(JAVA);
    assertThat(image.symbols()).isEqualTo(plain.symbols());
    assertThat(texts(image)).isEqualTo(texts(plain));
  }

  private static List<String> texts(CodeImage image) {
    return image.sections().stream()
        .map(section -> section + " " + HexFormat.of().formatHex(section.code()))
        .toList();
  }

  @ParameterizedTest
  @CsvSource({"false,false", "false,true", "true,false", "true,true"})
  void read_eachClassAndByteOrder_findsCodeAndFunctions(boolean wide, boolean big)
      throws IOException {
    ElfBytes elf = new ElfBytes(wide, big);
    elf.code(".text", 0x1000, new byte[] {1, 2, 3});
    elf.code(".fini", 0x1003, new byte[] {4});
    elf.function("open_gate", 1, 0x1001, 2);
    CodeImage image = CodeImage.read(file(elf.bytes()));
    assertThat(texts(image))
        .containsExactly(".text, 3 bytes at 0x1000 010203", ".fini, 1 bytes at 0x1003 04")
        .inOrder();
    assertThat(image.symbols()).containsExactly(new CodeImage.Symbol("open_gate", 0x1001, 2));
    byte[] bytes = new byte[5];
    assertThat(image.read(0x1001, bytes)).isEqualTo(3);
    assertThat(bytes).isEqualTo(new byte[] {2, 3, 4, 0, 0});
    assertThat(image.read(0x1004, bytes)).isEqualTo(0);
    assertThat(image.read(0xfff, bytes)).isEqualTo(0);
  }

  @Test
  void read_library_equalsWhatBinutilsSay() throws IOException {
    Tool.installed(LIBRARY, "libc6-i386-cross");
    CodeImage image = CodeImage.read(LIBRARY);
    List<String> sections = new ArrayList<>();
    Matcher line =
        Pattern.compile("] (\\S+) +PROGBITS +(\\w+) \\w+ (\\w+) \\w+ +AX ")
            .matcher(Tool.named("readelf", "binutils").run(20, "--sections", "--wide", LIBRARY));
    while (line.find()) {
      sections.add(
          "%s %x %x"
              .formatted(
                  line.group(1),
                  Long.parseLong(line.group(2), 16),
                  Long.parseLong(line.group(3), 16)));
    }
    assertThat(
            image.sections().stream()
                .map(s -> "%s %x %x".formatted(s.name(), s.address(), s.size()))
                .toList())
        .containsExactlyElementsIn(sections)
        .inOrder();
    // nm prints indirect functions with another letter, so types T, t, W and w are a part.
    Set<String> functions = new HashSet<>();
    image.symbols().forEach(s -> functions.add("%08x %s".formatted(s.address(), s.name())));
    Set<String> named =
        Tool.named("nm", "binutils")
            .run(20, "--dynamic", LIBRARY)
            .lines()
            .filter(text -> text.matches("[0-9a-f]{8} [TtWw] .*"))
            .map(text -> text.substring(0, 9) + text.substring(11).replaceAll("@.*", ""))
            .collect(Collectors.toSet());
    assertThat(named.size()).isGreaterThan(1000);
    assertThat(functions.containsAll(named)).isTrue();
  }

  @Test
  void readRaw_atBase_isThere() throws IOException {
    CodeImage image = CodeImage.readRaw(file(new byte[] {1, 2, 3}), 0xffff0000L);
    byte[] bytes = new byte[2];
    assertThat(image.read(0xffff0002L, bytes)).isEqualTo(1);
    assertThat(bytes[0]).isEqualTo(3);
  }

  @Test
  void of_overlap_saysSo() {
    List<CodeImage.Section> sections =
        List.of(
            CodeImage.Section.of("b", 2, new byte[2]), CodeImage.Section.of("a", 0, new byte[3]));
    assertThat(assertThrows(IllegalArgumentException.class, () -> CodeImage.of(sections)))
        .hasMessageThat()
        .isEqualTo(
            "code image: sections must not overlap, found a, 3 bytes at 0x0 and b, 2 bytes at 0x2");
  }

  @Test
  void of_pastLastAddress_saysSo() {
    assertThat(
            assertThrows(
                IllegalArgumentException.class, () -> CodeImage.Section.of("top", -2, new byte[3])))
        .hasMessageThat()
        .isEqualTo("section top: code must end below 2^64, found 3 bytes at 0xfffffffffffffffe");
    assertThat(CodeImage.Section.of("top", -2, new byte[2]).size()).isEqualTo(2);
  }
}

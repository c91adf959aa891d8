package dev.lengthwise.stream;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import net.fornwall.jelf.ElfException;
import net.fornwall.jelf.ElfFile;
import net.fornwall.jelf.ElfSection;

/**
 * The executable bytes of a file.
 *
 * @param sections the executable sections, in the order of the file
 */
public record CodeImage(List<Section> sections) {

  /** ELF: a section that holds code (System V ABI, chapter 4, section attribute SHF_EXECINSTR). */
  private static final long EXECUTABLE = 4;

  /** ELF: a section whose bytes are in the file (section type SHT_PROGBITS). */
  private static final int PROGRAM_BITS = 1;

  /**
   * A run of code.
   *
   * @param name its name
   * @param address the address of its first byte
   * @param code its bytes
   */
  @SuppressWarnings("ArrayRecordComponent") // copied on the way in and out
  public record Section(String name, long address, byte[] code) {

    /**
     * Copies the bytes.
     *
     * @param name see Section
     * @param address see Section
     * @param code see Section
     */
    public Section {
      code = code.clone();
    }

    /**
     * Returns a copy of the bytes.
     *
     * @return at least 0 bytes
     */
    @Override
    public byte[] code() {
      return code.clone();
    }
  }

  /**
   * Copies the list.
   *
   * @param sections see CodeImage
   */
  public CodeImage {
    sections = List.copyOf(sections);
  }

  /**
   * Reads a file: the executable sections of an ELF file, or all bytes of any other file at address
   * 0.
   *
   * @param file the file
   * @return its code
   * @throws IOException if the file cannot be read, is a broken ELF file, or holds no code
   */
  public static CodeImage read(Path file) throws IOException {
    byte[] head = new byte[4];
    int read;
    try (var in = Files.newInputStream(file)) {
      read = in.readNBytes(head, 0, head.length);
    }
    boolean elf =
        read == 4 && head[0] == 0x7f && head[1] == 'E' && head[2] == 'L' && head[3] == 'F';
    List<Section> sections = elf ? readElf(file) : readRaw(file);
    if (sections.stream().allMatch(section -> section.code.length == 0)) {
      throw new IOException(file + ": a file with code is expected, found no executable byte");
    }
    return new CodeImage(sections);
  }

  private static List<Section> readRaw(Path file) throws IOException {
    if (Files.size(file) > Integer.MAX_VALUE - 64) {
      throw new IOException(
          file + ": a raw image must be smaller than 2 GiB, found " + Files.size(file) + " bytes");
    }
    return List.of(new Section("raw", 0, Files.readAllBytes(file)));
  }

  private static List<Section> readElf(Path file) throws IOException {
    try {
      ElfFile elf = ElfFile.from(file.toFile());
      List<Section> sections = new ArrayList<>();
      for (int i = 0; i < elf.e_shnum; i++) {
        ElfSection section = elf.getSection(i);
        if ((section.header.sh_flags & EXECUTABLE) != 0 && section.header.sh_type == PROGRAM_BITS) {
          checkInside(file, i, section);
          sections.add(
              new Section(
                  Objects.requireNonNullElse(section.header.getName(), "section " + i),
                  section.header.sh_addr,
                  section.getData()));
        }
      }
      return sections;
    } catch (ElfException | IndexOutOfBoundsException | IllegalArgumentException e) {
      throw new IOException(
          file + ": a whole ELF file is expected, found a broken header (" + e.getMessage() + ")",
          e);
    }
  }

  private static void checkInside(Path file, int index, ElfSection section) throws IOException {
    long size = Files.size(file);
    long offset = section.header.sh_offset;
    long length = section.header.sh_size;
    if (offset < 0 || length < 0 || offset > size || length > size - offset) {
      throw new IOException(
          "%s: section %d must lie inside the file of %d bytes, found offset %d and size %d"
              .formatted(file, index, size, offset, length));
    }
  }
}

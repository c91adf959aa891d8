package dev.lengthwise.stream;

import java.io.IOException;
import java.io.InputStream;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.OptionalInt;

/** The executable bytes of a program, and the names of its functions. Immutable. */
public final class CodeImage {

  /** The most bytes of code of an image, so that a broken file cannot fill memory. */
  public static final int MOST_BYTES = 1 << 28;

  private final List<Section> sections;
  private final List<Section> byAddress;
  private final List<Symbol> symbols;
  private final OptionalInt machine;

  private CodeImage(List<Section> sections, List<Symbol> symbols, OptionalInt machine) {
    this.machine = machine;
    this.sections = List.copyOf(sections);
    List<Section> sorted =
        new ArrayList<>(sections.stream().filter(section -> section.size() > 0).toList());
    sorted.sort(Comparator.comparing(Section::address, Long::compareUnsigned));
    this.byAddress = List.copyOf(sorted);
    this.symbols = List.copyOf(symbols);
    for (int i = 1; i < byAddress.size(); i++) {
      if (byAddress.get(i - 1).holds(byAddress.get(i).address())) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "code image: sections must not overlap, found %s and %s",
                byAddress.get(i - 1),
                byAddress.get(i)));
      }
    }
  }

  /**
   * Returns an image of sections.
   *
   * @param sections in any order
   * @return the image, without symbols
   * @throws IllegalArgumentException if addresses overlap
   */
  public static CodeImage of(List<Section> sections) {
    return new CodeImage(sections, List.of(), OptionalInt.empty());
  }

  /** Returns an image of the sections, symbols and machine of an ELF file. */
  static CodeImage of(List<Section> sections, List<Symbol> symbols, OptionalInt machine) {
    return new CodeImage(sections, symbols, machine);
  }

  /**
   * Reads a file, plain or gzip: the executable sections of an ELF file, or all bytes of any other
   * file at address 0, unless it starts as a program or an archive of another format does; {@link
   * #readRaw} takes those too. The sections of an object file, which have no addresses yet, stand
   * at their offsets in the file.
   *
   * @param file the file
   * @return its code
   * @throws IOException if the file cannot be read, is a broken ELF file or has compressed code, is
   *     of another format, holds no code, or more than {@value #MOST_BYTES} bytes of it
   */
  public static CodeImage read(Path file) throws IOException {
    try (ImageBytes bytes = ImageBytes.open(file)) {
      return read(bytes);
    }
  }

  /**
   * Reads a stream to its end, without closing it.
   *
   * @param in the bytes of a file, at most {@value #MOST_BYTES} of them
   * @param name what messages call the stream
   * @return its code
   * @throws IOException as {@link #read(Path)}
   */
  public static CodeImage read(InputStream in, String name) throws IOException {
    Objects.requireNonNull(in, "in");
    Objects.requireNonNull(name, "name");
    return read(ImageBytes.of(in, name));
  }

  private static CodeImage read(ImageBytes bytes) throws IOException {
    byte[] head = bytes.read(0, (int) Math.min(4, bytes.size()), "the head");
    boolean elf =
        head.length == 4 && head[0] == 0x7f && head[1] == 'E' && head[2] == 'L' && head[3] == 'F';
    if (elf) {
      return new ElfReader(bytes).read();
    }
    Optional<String> other = OtherFormat.of(bytes);
    if (other.isPresent()) {
      throw new IOException(
          bytes.name()
              + ": an ELF file or raw code is expected (read raw, any bytes are taken as code),"
              + " found "
              + other.get());
    }
    return raw(bytes, 0);
  }

  /**
   * Reads all bytes of a file, plain or gzip, as code.
   *
   * @param file the file
   * @param base the address of its first byte
   * @return one section
   * @throws IOException if the file cannot be read, is empty, or has more than {@value #MOST_BYTES}
   *     bytes
   * @throws IllegalArgumentException if it goes on past the last address
   */
  public static CodeImage readRaw(Path file, long base) throws IOException {
    try (ImageBytes bytes = ImageBytes.open(file)) {
      return raw(bytes, base);
    }
  }

  private static CodeImage raw(ImageBytes bytes, long base) throws IOException {
    if (bytes.size() == 0) {
      throw bytes.noCode();
    }
    if (bytes.size() > MOST_BYTES) {
      throw new IOException(
          String.format(
              Locale.ROOT,
              "%s: at most %d bytes of code are expected, found %d",
              bytes.name(),
              MOST_BYTES,
              bytes.size()));
    }
    byte[] code = bytes.read(0, (int) bytes.size(), "the code");
    return of(List.of(new Section("raw", base, code)));
  }

  /**
   * Returns the executable sections.
   *
   * @return in the order of the file
   */
  public List<Section> sections() {
    return sections;
  }

  /**
   * Returns the machine that an ELF file says its code is for, for instance 3 for IA-32.
   *
   * @return the number in the ELF header; empty if the image is none of an ELF file
   */
  public OptionalInt machine() {
    return machine;
  }

  /**
   * Returns the bytes of code.
   *
   * @return the sum over all sections
   */
  public long size() {
    return sections.stream().mapToLong(Section::size).sum();
  }

  /**
   * Returns the functions that the file names in those sections.
   *
   * @return sorted by address, then by name
   */
  public List<Symbol> symbols() {
    return symbols;
  }

  /**
   * Copies code from an address on.
   *
   * @param address the address of the first byte
   * @param into takes as many bytes as follow each other and fit
   * @return how many there are, 0 if there is no code at the address
   */
  public int read(long address, byte[] into) {
    int count = 0;
    int place = placeOf(address);
    while (count < into.length
        && place >= 0
        && place < byAddress.size()
        && byAddress.get(place).holds(address + count)) {
      count += byAddress.get(place).copy(address + count, into, count);
      place++;
    }
    return count;
  }

  /** Returns the place of the last section that starts at or before an address, or -1. */
  private int placeOf(long address) {
    int low = 0;
    int high = byAddress.size() - 1;
    while (low <= high) {
      int middle = (low + high) >>> 1;
      if (Long.compareUnsigned(byAddress.get(middle).address(), address) <= 0) {
        low = middle + 1;
      } else {
        high = middle - 1;
      }
    }
    return high;
  }

  @Override
  public String toString() {
    return String.format(
        Locale.ROOT, "%d sections, %d bytes, %d symbols", sections.size(), size(), symbols.size());
  }

  /**
   * A function that a file names.
   *
   * @param name its name; bytes that are not printable ASCII are shown as question marks
   * @param address the address of its first byte
   * @param size its bytes; 0 if the file does not say
   */
  public record Symbol(String name, long address, long size) {

    /**
     * Checks for null.
     *
     * @param name see Symbol
     * @param address see Symbol
     * @param size see Symbol
     */
    public Symbol {
      Objects.requireNonNull(name, "name");
    }
  }

  /** A run of code at an address. Immutable. */
  public static final class Section {

    private final String name;
    private final long address;
    private final byte[] code;

    /** Takes an array that nobody else keeps. */
    Section(String name, long address, byte[] code) {
      this.name = Objects.requireNonNull(name, "name");
      this.address = address;
      this.code = code;
      if (code.length > 0 && Long.compareUnsigned(address + (code.length - 1), address) < 0) {
        throw new IllegalArgumentException(
            String.format(
                Locale.ROOT,
                "section %s: code must end below 2^64, found %d bytes at 0x%x",
                name,
                code.length,
                address));
      }
    }

    /**
     * Returns a section.
     *
     * @param name its name
     * @param address the address of its first byte
     * @param code its bytes, copied
     * @return the section
     * @throws IllegalArgumentException if it goes on past the last address
     */
    public static Section of(String name, long address, byte[] code) {
      return new Section(name, address, code.clone());
    }

    /**
     * Returns the section's name.
     *
     * @return the name
     */
    public String name() {
      return name;
    }

    /**
     * Returns the address of the first byte.
     *
     * @return an unsigned address
     */
    public long address() {
      return address;
    }

    /**
     * Returns the number of bytes.
     *
     * @return at least 0
     */
    public int size() {
      return code.length;
    }

    /**
     * Returns a copy of the bytes.
     *
     * @return {@link #size()} bytes
     */
    public byte[] code() {
      return code.clone();
    }

    /** Tells whether the section has a byte at an address. */
    boolean holds(long at) {
      return Long.compareUnsigned(at - address, code.length) < 0;
    }

    /** Copies bytes from an address on, as many as there are and fit; returns how many. */
    int copy(long at, byte[] into, int offset) {
      int from = (int) (at - address);
      int count = Math.min(code.length - from, into.length - offset);
      System.arraycopy(code, from, into, offset, count);
      return count;
    }

    @Override
    public String toString() {
      return String.format(Locale.ROOT, "%s, %d bytes at 0x%x", name, code.length, address);
    }
  }
}

package dev.lengthwise.stream;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.OptionalInt;

/**
 * Reads the executable sections and the function symbols of an ELF file.
 *
 * <p>Offsets and values: <i>System V Application Binary Interface</i>, edition 4.1, chapter 4
 * (object files), and its draft of 2013 for the 64-bit layouts and for more than 65,279 sections,
 * from memory. Written by hand rather than with a library because a hostile file must cost no more
 * memory than the parts read, and be refused with the place that is wrong.
 */
final class ElfReader {

  private static final long EXECUTABLE = 4; // SHF_EXECINSTR
  private static final int PROGRAM_BITS = 1; // SHT_PROGBITS
  private static final long COMPRESSED = 0x800; // SHF_COMPRESSED
  private static final int OBJECT_FILE = 1; // ET_REL
  private static final int NAMES_IN_FIRST = 0xffff; // SHN_XINDEX

  /** The most section headers, so that a broken count costs no time. */
  private static final int MOST_SECTIONS = 1 << 20;

  private static final int LONGEST_NAME = 255;

  private final ImageBytes file;
  private boolean wide;
  private ByteOrder order = ByteOrder.LITTLE_ENDIAN;
  private boolean objectFile;
  private int machine;

  /** A section header, the fields that are used. */
  record Header(
      long place, int name, int type, long flags, long address, long offset, long size, int link) {

    boolean isCode() {
      return (flags & EXECUTABLE) != 0 && type == PROGRAM_BITS;
    }
  }

  ElfReader(ImageBytes file) {
    this.file = file;
  }

  CodeImage read() throws IOException {
    List<Header> headers = readHeaders();
    List<CodeImage.Section> sections = new ArrayList<>();
    long total = 0;
    for (int i = 0; i < headers.size(); i++) {
      Header header = headers.get(i);
      if (header.isCode() && header.size() != 0) {
        String what = "section " + i;
        if ((header.flags() & COMPRESSED) != 0) {
          throw file.broken(
              header.place(),
              "code that is not compressed is expected in " + what,
              String.format(Locale.ROOT, "flags 0x%x (0x800: compressed)", header.flags()));
        }
        file.checkInside(header.offset(), header.size(), what);
        total += header.size();
        if (total > CodeImage.MOST_BYTES) {
          throw file.broken(
              header.place(),
              "at most " + CodeImage.MOST_BYTES + " bytes of code are expected",
              total + " up to " + what);
        }
        sections.add(section(header, what));
      }
    }
    if (sections.isEmpty()) {
      throw file.noCode();
    }
    List<CodeImage.Symbol> symbols = new ElfSymbols(file, this, headers).read();
    try {
      return CodeImage.of(sections, symbols, OptionalInt.of(machine));
    } catch (IllegalArgumentException e) {
      throw new IOException(file.name() + ": " + e.getMessage(), e);
    }
  }

  private CodeImage.Section section(Header header, String what) throws IOException {
    byte[] code = file.read(header.offset(), (int) header.size(), what);
    String name = nameOf(header, what);
    try {
      return new CodeImage.Section(name, addressOf(header), code);
    } catch (IllegalArgumentException e) {
      throw new IOException(file.name() + ": " + e.getMessage(), e);
    }
  }

  private Header names = new Header(0, 0, 0, 0, 0, 0, 0, 0);

  private String nameOf(Header header, String what) throws IOException {
    long left = names.size() - Integer.toUnsignedLong(header.name());
    if (names.size() == 0 || left <= 0) {
      return what;
    }
    long from = names.offset() + Integer.toUnsignedLong(header.name());
    byte[] text = file.read(from, (int) Math.min(left, LONGEST_NAME), "the name of " + what);
    String name = text(text, 0, LONGEST_NAME);
    return name.isEmpty() ? what : name;
  }

  /** Returns the address of a section; an object file's have none, so it is the offset. */
  long addressOf(Header header) {
    return objectFile ? header.offset() : header.address();
  }

  boolean isWide() {
    return wide;
  }

  boolean isObjectFile() {
    return objectFile;
  }

  /** Reads bytes to be taken apart in the file's byte order. */
  ByteBuffer fields(long offset, int length, String what) throws IOException {
    return ByteBuffer.wrap(file.read(offset, length, what)).order(order);
  }

  /** Reads a field that is as wide as an address. */
  long word(ByteBuffer fields, int narrowOffset, int wideOffset) {
    return wide ? fields.getLong(wideOffset) : Integer.toUnsignedLong(fields.getInt(narrowOffset));
  }

  /** Returns the text up to a zero byte. */
  static String text(byte[] bytes, int from, int most) {
    StringBuilder text = new StringBuilder();
    for (int i = from; i < bytes.length && bytes[i] != 0 && i - from < most; i++) {
      text.append(bytes[i] > ' ' && bytes[i] < 0x7f ? (char) bytes[i] : '?');
    }
    return text.toString();
  }

  private List<Header> readHeaders() throws IOException {
    byte[] ident = file.read(0, 16, "the ELF header");
    wide = ident[4] == 2;
    order = ident[5] == 2 ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN;
    if (ident[4] != 1 && ident[4] != 2) {
      throw file.broken(4, "an ELF class of 1 or 2 is expected", ident[4] + "");
    }
    if (ident[5] != 1 && ident[5] != 2) {
      throw file.broken(5, "an ELF byte order of 1 or 2 is expected", ident[5] + "");
    }
    ByteBuffer head = fields(0, wide ? 64 : 52, "the ELF header");
    objectFile = head.getShort(16) == OBJECT_FILE;
    machine = Short.toUnsignedInt(head.getShort(18));
    long place = word(head, 32, 40);
    int entry = Short.toUnsignedInt(head.getShort(wide ? 58 : 46));
    long count = Short.toUnsignedInt(head.getShort(wide ? 60 : 48));
    int namesIndex = Short.toUnsignedInt(head.getShort(wide ? 62 : 50));
    if (place == 0) {
      throw file.broken(
          wide ? 40 : 32, "section headers are expected", "none (the file is stripped of them)");
    }
    if (entry < headerBytes()) {
      throw file.broken(
          wide ? 58 : 46,
          "section headers of at least " + headerBytes() + " bytes are expected",
          entry + "");
    }
    if (count == 0 || namesIndex == NAMES_IN_FIRST) {
      Header first = header(place, "section header 0");
      count = count == 0 ? first.size() : count;
      namesIndex = namesIndex == NAMES_IN_FIRST ? first.link() : namesIndex;
    }
    if (count < 0 || count > MOST_SECTIONS) {
      throw file.broken(
          place,
          "at most " + MOST_SECTIONS + " sections are expected",
          Long.toUnsignedString(count));
    }
    file.checkInside(place, count * entry, count + " section headers");
    List<Header> headers = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      headers.add(header(place + (long) i * entry, "section header " + i));
    }
    if (namesIndex > 0 && namesIndex < headers.size()) {
      names = headers.get(namesIndex);
      file.checkInside(names.offset(), names.size(), "the section of names");
    }
    return headers;
  }

  private int headerBytes() {
    return wide ? 64 : 40;
  }

  private Header header(long place, String what) throws IOException {
    ByteBuffer fields = fields(place, headerBytes(), what);
    return new Header(
        place,
        fields.getInt(0),
        fields.getInt(4),
        word(fields, 8, 8),
        word(fields, 12, 16),
        word(fields, 16, 24),
        word(fields, 20, 32),
        fields.getInt(wide ? 40 : 24));
  }

  @Override
  public String toString() {
    return String.format(Locale.ROOT, "%s, %s", file.name(), wide ? "64-bit" : "32-bit");
  }
}

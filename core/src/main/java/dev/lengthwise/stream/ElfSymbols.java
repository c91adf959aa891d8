package dev.lengthwise.stream;

import java.io.IOException;
import java.nio.ByteBuffer;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Reads the functions in executable sections from an ELF file's symbols. */
final class ElfSymbols {

  private static final int SYMBOLS = 2; // SHT_SYMTAB
  private static final int DYNAMIC_SYMBOLS = 11; // SHT_DYNSYM
  private static final int FUNCTION = 2; // STT_FUNC

  /** The most bytes of symbols, and of their names; no linked program comes near. */
  private static final int MOST_BYTES = 1 << 26;

  private static final int LONGEST_NAME = 1023;

  private final ImageBytes file;
  private final ElfReader elf;
  private final List<ElfReader.Header> headers;

  ElfSymbols(ImageBytes file, ElfReader elf, List<ElfReader.Header> headers) {
    this.file = file;
    this.elf = elf;
    this.headers = headers;
  }

  /** Returns the functions of the full table, or of the dynamic one if there is no other. */
  List<CodeImage.Symbol> read() throws IOException {
    Optional<ElfReader.Header> table = first(SYMBOLS).or(() -> first(DYNAMIC_SYMBOLS));
    if (table.isEmpty() || table.get().size() == 0) {
      return List.of();
    }
    int link = table.get().link();
    if (link <= 0 || link >= headers.size()) {
      throw file.broken(
          table.get().place(),
          "a section of names in [1, " + (headers.size() - 1) + "] is expected for the symbols",
          link + "");
    }
    ElfReader.Header names = headers.get(link);
    checkSize(table.get(), "the symbols");
    checkSize(names, "the symbols' names");
    return functions(
        elf.fields(table.get().offset(), (int) table.get().size(), "the symbols"),
        file.read(names.offset(), (int) names.size(), "the symbols' names"));
  }

  private Optional<ElfReader.Header> first(int type) {
    return headers.stream().filter(header -> header.type() == type).findFirst();
  }

  private void checkSize(ElfReader.Header header, String what) throws IOException {
    if (header.size() < 0 || header.size() > MOST_BYTES) {
      throw file.broken(
          header.place(),
          String.format(Locale.ROOT, "%s must have at most %d bytes", what, MOST_BYTES),
          Long.toUnsignedString(header.size()));
    }
  }

  private List<CodeImage.Symbol> functions(ByteBuffer symbols, byte[] names) throws IOException {
    int entry = elf.isWide() ? 24 : 16;
    long room = MOST_BYTES;
    List<CodeImage.Symbol> found = new ArrayList<>();
    for (int at = 0; at + entry <= symbols.limit(); at += entry) {
      int kind = symbols.get(at + (elf.isWide() ? 4 : 12)) & 0xf;
      int section = Short.toUnsignedInt(symbols.getShort(at + (elf.isWide() ? 6 : 14)));
      if (kind != FUNCTION || section >= headers.size() || !headers.get(section).isCode()) {
        continue;
      }
      long value =
          elf.isWide() ? symbols.getLong(at + 8) : Integer.toUnsignedLong(symbols.getInt(at + 4));
      long size =
          elf.isWide() ? symbols.getLong(at + 16) : Integer.toUnsignedLong(symbols.getInt(at + 8));
      long name = Integer.toUnsignedLong(symbols.getInt(at));
      if (name >= names.length) {
        throw file.broken(
            0,
            "names of symbols must lie in their section of " + names.length + " bytes",
            "a name at " + name);
      }
      String text = ElfReader.text(names, (int) name, LONGEST_NAME);
      room -= text.length();
      if (room < 0) {
        throw file.broken(
            0, "names of symbols must have at most " + MOST_BYTES + " bytes in all", "more");
      }
      long base = elf.isObjectFile() ? headers.get(section).offset() : 0;
      found.add(new CodeImage.Symbol(text, base + value, size));
    }
    found.sort(
        Comparator.comparing(CodeImage.Symbol::address, Long::compareUnsigned)
            .thenComparing(CodeImage.Symbol::name));
    return List.copyOf(found);
  }
}

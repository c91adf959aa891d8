package dev.lengthwise.stream;

import java.io.ByteArrayOutputStream;
import java.nio.ByteBuffer;
import java.nio.ByteOrder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;

/** Builds small ELF files byte by byte, so that single fields can be made wrong. */
final class ElfBytes {

  private final boolean wide;
  private final ByteOrder order;
  private final List<Section> sections = new ArrayList<>();
  private final ByteArrayOutputStream strings = new ByteArrayOutputStream();
  private final ByteArrayOutputStream symbols = new ByteArrayOutputStream();

  @SuppressWarnings("ArrayRecordComponent") // never compared
  private record Section(String name, int type, long flags, long address, byte[] bytes) {}

  ElfBytes(boolean wide, boolean big) {
    this.wide = wide;
    this.order = big ? ByteOrder.BIG_ENDIAN : ByteOrder.LITTLE_ENDIAN;
    sections.add(new Section("", 0, 0, 0, new byte[0]));
    strings.write(0);
  }

  void code(String name, long address, byte[] bytes) {
    sections.add(new Section(name, 1, 6, address, bytes));
  }

  void function(String name, int section, long value, long size) {
    ByteBuffer symbol = ByteBuffer.allocate(wide ? 24 : 16).order(order);
    symbol.putInt(string(name));
    if (wide) {
      symbol.put((byte) 0x12).put((byte) 0).putShort((short) section).putLong(value).putLong(size);
    } else {
      symbol.putInt((int) value).putInt((int) size).put((byte) 0x12).put((byte) 0);
      symbol.putShort((short) section);
    }
    symbols.writeBytes(symbol.array());
  }

  private int string(String text) {
    int at = strings.size();
    strings.writeBytes(text.getBytes(StandardCharsets.US_ASCII));
    strings.write(0);
    return at;
  }

  int headerBytes() {
    return wide ? 64 : 52;
  }

  int sectionHeaderBytes() {
    return wide ? 64 : 40;
  }

  /** Returns the file: ELF header, section headers, contents; the strings are the last section. */
  byte[] bytes() {
    List<Section> all = new ArrayList<>(sections);
    int link = all.size() + 1;
    all.add(new Section(".symtab", 2, 0, 0, symbols.toByteArray()));
    List<Integer> names = new ArrayList<>(all.stream().map(s -> string(s.name())).toList());
    names.add(string(".strtab"));
    all.add(new Section(".strtab", 3, 0, 0, strings.toByteArray()));
    int contents = headerBytes() + all.size() * sectionHeaderBytes();
    int size = contents + all.stream().mapToInt(s -> s.bytes().length).sum();
    ByteBuffer out = ByteBuffer.allocate(size).order(order);
    out.put(new byte[] {0x7f, 'E', 'L', 'F', (byte) (wide ? 2 : 1)});
    out.put((byte) (order == ByteOrder.BIG_ENDIAN ? 2 : 1)).put((byte) 1).position(16);
    out.putShort((short) 2).putShort((short) 3).putInt(1);
    word(out, 0);
    word(out, 0);
    word(out, headerBytes());
    out.putInt(0).putShort((short) headerBytes()).putShort((short) 0).putShort((short) 0);
    out.putShort((short) sectionHeaderBytes());
    out.putShort((short) all.size()).putShort((short) (all.size() - 1));
    int offset = contents;
    for (int i = 0; i < all.size(); i++) {
      Section section = all.get(i);
      out.putInt(names.get(i)).putInt(section.type());
      word(out, section.flags());
      word(out, section.address());
      word(out, offset);
      word(out, section.bytes().length);
      out.putInt(section.type() == 2 ? link : 0).putInt(0);
      word(out, 1);
      word(out, 0);
      offset += section.bytes().length;
    }
    all.forEach(section -> out.put(section.bytes()));
    return out.array();
  }

  private void word(ByteBuffer out, long value) {
    if (wide) {
      out.putLong(value);
    } else {
      out.putInt((int) value);
    }
  }
}

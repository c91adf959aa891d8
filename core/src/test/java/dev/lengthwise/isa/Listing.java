package dev.lengthwise.isa;

import dev.lengthwise.testing.Tool;
import java.io.ByteArrayOutputStream;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * The code of a file as GNU objdump lists it, one run of bytes for each section.
 *
 * @param sections the sections, in the order of the listing
 */
record Listing(List<Section> sections) {

  private static final Pattern LINE =
      Pattern.compile(" *([0-9a-f]+):\\t((?:[0-9a-f]{2} )+) *(?:\\t(.*))?");

  /** The bytes of a section, and what the disassembler makes of them, without gaps. */
  static final class Section {

    private final String name;
    private final byte[] bytes;
    private final List<Line> lines;

    private Section(String name, byte[] bytes, List<Line> lines) {
      this.name = name;
      this.bytes = bytes;
      this.lines = List.copyOf(lines);
    }

    String name() {
      return name;
    }

    byte[] bytes() {
      return bytes.clone();
    }

    List<Line> lines() {
      return lines;
    }
  }

  /**
   * One line of a listing.
   *
   * @param start the offset in the section
   * @param length in bytes
   * @param text the mnemonic and operands
   */
  record Line(int start, int length, String text) {}

  /** Disassembles the code sections of a file, zeros and long instructions included. */
  static Listing of(int seconds, Object... options) {
    Object[] arguments = new Object[options.length + 3];
    arguments[0] = "--disassemble";
    arguments[1] = "--disassemble-zeroes";
    arguments[2] = "--wide";
    System.arraycopy(options, 0, arguments, 3, options.length);
    return parse(Tool.named("objdump", "binutils").run(seconds, arguments));
  }

  private static Listing parse(String text) {
    List<Section> sections = new ArrayList<>();
    String name = null;
    long origin = -1;
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    List<Line> lines = new ArrayList<>();
    for (String row : (text + "Disassembly of section end:\n").lines().toList()) {
      if (row.startsWith("Disassembly of section ")) {
        if (name != null) {
          sections.add(new Section(name, bytes.toByteArray(), lines));
        }
        name = row.substring("Disassembly of section ".length(), row.length() - 1);
        origin = -1;
        bytes.reset();
        lines.clear();
        continue;
      }
      Matcher line = LINE.matcher(row);
      if (line.matches()) {
        long address = Long.parseLong(line.group(1), 16);
        origin = origin < 0 ? address : origin;
        if (address - origin != bytes.size()) {
          throw new AssertionError("listing: lines without gaps are expected, found " + row);
        }
        byte[] code = HexFormat.ofDelimiter(" ").parseHex(line.group(2).strip());
        lines.add(new Line(bytes.size(), code.length, line.group(3) == null ? "" : line.group(3)));
        bytes.writeBytes(code);
      } else if (!row.isEmpty() && !row.endsWith(">:") && !row.contains("file format")) {
        throw new AssertionError("listing: a line of code is expected, found " + row);
      }
    }
    return new Listing(List.copyOf(sections));
  }
}
